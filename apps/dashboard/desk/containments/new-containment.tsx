import { type SyntheticEvent, useId, useState } from 'react';
import { useSearchParams } from 'wouter';
import type { Schemas } from '../api/client.js';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { Block } from '../kit/page.js';
import { useCauseNames } from './cause-names.js';
import {
  CAUSE_KINDS,
  type CauseKind,
  causeKindWords,
  causeOf,
  type CauseWish,
  causeWish,
  isWhole,
  wishInAddress,
} from './cause-wish.js';
import { DryRun } from './dry-run.js';

interface Asked {
  readonly cause: Schemas['SuspectCauseBody'];
  /** Ever another one, so that asking again looks again. */
  readonly n: number;
}

/** A cause is named and looked at first; nothing is held before what it touched was seen and signed for. */
export function NewContainment() {
  const [address, setAddress] = useSearchParams();
  const [wish, setWish] = useState(() => causeWish(address));
  // Looking harms nothing: a whole cause in the address is looked at as soon as it is opened.
  const [asked, setAsked] = useState<Asked | null>(() => (isWhole(wish) ? { cause: causeOf(wish), n: 0 } : null));
  const change = (part: Partial<CauseWish>) => {
    setWish({ ...wish, ...part });
    setAsked(null);
  };
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    setAddress(wishInAddress(wish), { replace: true });
    setAsked({ cause: causeOf(wish), n: (asked?.n ?? 0) + 1 });
  };
  return (
    <Block
      title="What was wrong, and when"
      note="First see what it touched. Nothing is held until you have seen that and signed."
    >
      <form className="new-containment" onSubmit={submit}>
        <CauseFields wish={wish} onChange={change} />
        <Button tone="main" type="submit">
          See what it touched
        </Button>
      </form>
      {asked !== null && <DryRun key={asked.n} cause={asked.cause} n={asked.n} />}
    </Block>
  );
}

interface CauseFieldsProps {
  readonly wish: CauseWish;
  readonly onChange: (part: Partial<CauseWish>) => void;
}

function CauseFields({ wish, onChange }: CauseFieldsProps) {
  const names = useCauseNames(wish.kind);
  const list = useId();
  const text = (label: string, part: 'name' | 'revision' | 'from' | 'to', type = 'text') => (
    <Field label={label}>
      <input
        type={type}
        className={type === 'text' ? 'mono' : ''}
        required={part !== 'revision'}
        maxLength={type === 'text' ? 200 : undefined}
        autoComplete="off"
        list={part === 'name' ? list : undefined}
        value={wish[part]}
        onChange={(event) => {
          onChange({ [part]: event.target.value });
        }}
      />
    </Field>
  );
  return (
    <>
      <Field label="Suspect">
        <select
          value={wish.kind}
          onChange={(event) => {
            onChange({ kind: event.target.value as CauseKind, name: '', revision: '' });
          }}
        >
          {CAUSE_KINDS.map((kind) => (
            <option key={kind} value={kind}>
              {causeKindWords(kind)}
            </option>
          ))}
        </select>
      </Field>
      {text('Its name', 'name')}
      <datalist id={list}>
        {names.map((name) => (
          <option key={name} value={name} />
        ))}
      </datalist>
      {wish.kind === 'profile' && text('Revision; empty: every one', 'revision')}
      {text('From', 'from', 'datetime-local')}
      {text('Up to, without it', 'to', 'datetime-local')}
    </>
  );
}
