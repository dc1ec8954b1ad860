import { type SyntheticEvent, useState } from 'react';
import { Button } from '../kit/button.js';
import { Field } from '../kit/field.js';
import { seqTyped } from './ledger-places.js';
import type { LedgerOrder, LedgerSource } from './ledger-queries.js';
import { ledgerTypes } from './ledger-types.js';

interface LedgerBarProps {
  readonly kind: LedgerSource['kind'];
  readonly order: LedgerOrder;
  /** The type that is looked for; empty: all. */
  readonly type: string;
  /** How many there are. */
  readonly entries: number;
  readonly onChange: (name: 'order' | 'type', value: string | null) => void;
  readonly onJump: (seq: number) => void;
}

/** How to go through a ledger: order, type, and straight to an entry by its number. */
export function LedgerBar({ kind, order, type, entries, onChange, onJump }: LedgerBarProps) {
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState<string>();
  const jump = (event: SyntheticEvent) => {
    event.preventDefault();
    const seq = seqTyped(text, entries);
    setWrong(seq === undefined ? `The ledger has entries 1 to ${entries}.` : undefined);
    if (seq === undefined) return;
    setText('');
    onJump(seq);
  };
  return (
    <div className="ledger-bar">
      <Field label="Order">
        <select
          value={order}
          onChange={(event) => {
            onChange('order', event.target.value === 'asc' ? 'asc' : null);
          }}
        >
          <option value="desc">Newest first</option>
          <option value="asc">Oldest first</option>
        </select>
      </Field>
      <Field label="Only">
        <select
          value={type}
          onChange={(event) => {
            onChange('type', event.target.value);
          }}
        >
          <option value="">all entries</option>
          {ledgerTypes(kind).map(({ type: one, words }) => (
            <option key={one} value={one}>
              {words}
            </option>
          ))}
        </select>
      </Field>
      <form className="ledger-bar__jump" onSubmit={jump}>
        <Field label="Go to entry" error={wrong}>
          <input
            inputMode="numeric"
            autoComplete="off"
            size={7}
            value={text}
            onChange={(event) => {
              setText(event.target.value);
            }}
          />
        </Field>
        <Button type="submit">Go</Button>
      </form>
      <p className="ledger-bar__count">
        {entries} {entries === 1 ? 'entry' : 'entries'}
      </p>
    </div>
  );
}
