import { World } from '../../domain/book/state.js';
import { refKey } from '../../domain/events/event-order.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { ClearanceRecord } from '../clearances/clearance-record.js';
import { ClearanceTransaction } from '../ports/clearance-store.js';
import { Fact } from './rejudged.js';

/** The clearance that a step names, in an event's data or an entry's; undefined where it names none. */
export function clearanceNamed(data: unknown): string | undefined {
  if (typeof data !== 'object' || data === null || !('clearance' in data)) return undefined;
  return typeof data.clearance === 'string' ? data.clearance : undefined;
}

/** Reads the clearances that steps name, and those on `keys`, each once. */
export async function knownClearances(
  tx: Pick<ClearanceTransaction, 'clearances' | 'clearancesOn'>,
  steps: readonly { readonly data: unknown }[],
  keys: readonly StreamKey[] = [],
): Promise<readonly ClearanceRecord[]> {
  const named = [...new Set(steps.flatMap(({ data }) => clearanceNamed(data) ?? []))];
  const on = keys.length === 0 ? [] : await tx.clearancesOn(keys);
  const missing = named.filter((id) => !on.some((one) => one.id === id));
  return missing.length === 0 ? on : [...on, ...(await tx.clearances(missing))];
}

/** Working copies for judging what comes next. */
export function clearancesSoFar(records: readonly ClearanceRecord[]): World['clearances'] {
  return new Map(records.map((record) => [record.id, structuredClone(record)]));
}

/**
 * Working copies for telling a story from its beginning: its own facts have used nothing yet, those of others have. An entry
 * that only tells where an event of another ledger moved a device is no fact of the story.
 */
export function clearancesBefore(
  records: readonly ClearanceRecord[],
  facts: readonly Pick<Fact, 'event'>[],
): World['clearances'] {
  const told = new Set(facts.map(({ event }) => refKey(event.order)));
  const working = clearancesSoFar(records);
  for (const { steps } of working.values()) {
    for (const step of steps) if (step.use !== null && told.has(refKey(step.use))) step.use = null;
  }
  return working;
}

/** Those that the fold used otherwise than they were known, as they are now. */
export function changedClearances(
  records: readonly ClearanceRecord[],
  clearances: World['clearances'],
): readonly ClearanceRecord[] {
  return records.flatMap((record) => {
    const steps = clearances.get(record.id)?.steps ?? record.steps;
    return JSON.stringify(steps) === JSON.stringify(record.steps) ? [] : [{ ...record, steps }];
  });
}
