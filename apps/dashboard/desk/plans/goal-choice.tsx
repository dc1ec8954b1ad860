import type { UseQueryResult } from '@tanstack/react-query';
import { type SyntheticEvent, useState } from 'react';
import type { Schemas } from '../api/client.js';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { Mark } from '../kit/marks.js';
import { SubjectLink } from '../kit/subject-link.js';
import { NotKnown } from './not-known.js';
import type { Goal, PlanWish } from './plan-wish.js';

interface GoalChoiceProps {
  readonly wish: PlanWish;
  /** What the site takes; undefined where no site is chosen. */
  readonly part: string | undefined;
  readonly newDevice: UseQueryResult<Schemas['Device']>;
  readonly onChange: (wish: PlanWish) => void;
}

const GOALS: readonly { readonly goal: Goal; readonly words: string }[] = [
  { goal: 'new-device', words: 'another device; the old one is scrapped' },
  { goal: 'reuse-device', words: 'the same device, reballed' },
];

/** What the site gets in the end, and which device that is where one was picked already. */
export function GoalChoice({ wish, part, newDevice, onChange }: GoalChoiceProps) {
  return (
    <fieldset className="plan-choice__set">
      <legend>The site gets</legend>
      {GOALS.map(({ goal, words }) => (
        <label key={goal}>
          <input
            type="radio"
            name="goal"
            checked={wish.goal === goal}
            onChange={() => {
              onChange({ ...wish, goal });
            }}
          />
          {words}
        </label>
      ))}
      {wish.goal === 'new-device' && <NewDevice wish={wish} part={part} newDevice={newDevice} onChange={onChange} />}
    </fieldset>
  );
}

function NewDevice({ wish, part, newDevice, onChange }: GoalChoiceProps) {
  // Null while the field shows the device that is named.
  const [typed, setTyped] = useState<string | null>(null);
  const device = typed ?? wish.device;
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    setTyped(null);
    onChange({ ...wish, device: device.trim() });
  };
  return (
    <form className="plan-choice__device" onSubmit={submit}>
      <Field
        label="Which one, if it is picked"
        hint="Scan its label. Then its own excursions and floor life are looked at too."
      >
        <input
          className="mono"
          maxLength={64}
          autoComplete="off"
          spellCheck={false}
          value={device}
          onChange={(event) => {
            setTyped(event.target.value);
          }}
        />
      </Field>
      <Button type="submit" busy={newDevice.isFetching}>
        Name it
      </Button>
      {newDevice.isError && (
        <NotKnown error={newDevice.error} retry={() => void newDevice.refetch()}>
          The book has no device {wish.device}. Read the label again, or receive it first.
        </NotKnown>
      )}
      {newDevice.data !== undefined && <DeviceTold device={newDevice.data} part={part} />}
    </form>
  );
}

/** What the book knows of it, and what speaks against placing it. */
function DeviceTold({ device, part }: { readonly device: Schemas['Device']; readonly part: string | undefined }) {
  const fits = part === undefined || device.part === null || device.part === part;
  return (
    <p role="status" className="plan-choice__told">
      <SubjectLink subject={{ kind: 'device', device: device.device }} /> {device.part ?? 'part not known'},{' '}
      {device.status} {!fits && <Mark tone="caution">the site takes {part}</Mark>}{' '}
      {device.status !== 'loose' && <Mark tone="stop">not loose: take another one</Mark>}{' '}
      {device.holds.length > 0 && <Mark tone="stop">on hold</Mark>}
    </p>
  );
}
