import { BookChanges } from '../ports/book-store.js';
import { Draft } from './draft.js';
import { InboxRow } from './memory-tables.js';

/**
 * Takes events out of the way of the fold: for good, until they are unparked, or for a while after `now` (RFC 3339).
 * @throws Error where one of them is not pending.
 */
export function settleEvents(inbox: Draft<number, InboxRow>, changes: BookChanges, now: string): void {
  const settle = (number: string, change: (row: InboxRow) => Partial<InboxRow>): void => {
    const row = inbox.get(Number(number));
    if (row?.state !== 'pending') throw new Error(`Event ${number} of the inbox does not wait to be folded.`);
    inbox.set(row.number, { ...row, ...change(row) });
  };
  for (const number of changes.done) settle(number, () => ({ state: 'applied' }));
  for (const { number, reason } of changes.parked)
    settle(number, () => ({ state: 'parked', parked: { reason: JSON.stringify(reason), at: now } }));
  for (const { number, delayMs } of changes.postponed)
    settle(number, ({ attempts }) => ({ attempts: attempts + 1, dueAtMs: Date.parse(now) + delayMs }));
}
