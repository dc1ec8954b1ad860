import { type SyntheticEvent, useState } from 'react';
import { useLocation } from 'wouter';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { Block } from '../kit/page.js';
import { paths } from '../paths.js';
import { limitWords } from '../words/words.js';
import { LIMIT_KINDS, type LimitKind, limitKind } from './limit-words.js';

/** Begins a further limit of a kind: for a customer, an assembly, a part or a site. */
export function NewLimit() {
  const [kind, setKind] = useState<LimitKind>('device-excursions');
  const [name, setName] = useState('');
  const [, go] = useLocation();
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    go(`${paths.limit(name)}?${new URLSearchParams({ kind }).toString()}`);
  };
  return (
    <Block
      title="Another limit"
      note="For one customer, assembly, part or site. What it would change is shown before it is adopted."
    >
      <form className="new-limit" onSubmit={submit}>
        <Field label="Of which kind">
          <select
            value={kind}
            onChange={(event) => {
              setKind(limitKind(event.target.value) ?? kind);
            }}
          >
            {LIMIT_KINDS.map((one) => (
              <option key={one} value={one}>
                {limitWords(one)}
              </option>
            ))}
          </select>
        </Field>
        <Field label="Its name: letters, digits and . _ : -">
          <input
            required
            maxLength={64}
            pattern="[A-Za-z0-9._:\-]{1,64}"
            title="1 to 64 letters, digits and . _ : -"
            autoComplete="off"
            spellCheck={false}
            placeholder={`${kind}.BOARD-7`}
            value={name}
            onChange={(event) => {
              setName(event.target.value);
            }}
          />
        </Field>
        <Button type="submit">Write it</Button>
      </form>
    </Block>
  );
}
