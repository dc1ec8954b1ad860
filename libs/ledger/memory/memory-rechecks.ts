import { compareText, orderTime } from '../../domain/events/event-order.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { effectiveAt } from '../limits/effective-at.js';
import { isOver, LimitRecheck, newRecheck, OPEN_STATUSES, OpenKind } from '../limits/limit-recheck.js';
import { HOUSE } from '../setup/house-setup.js';
import { SubjectState } from '../ports/book-store.js';
import { readRevisions } from './memory-setup-store.js';
import { MemoryTables } from './memory-tables.js';

export function recheckName(limit: string, revision: number): string {
  return `${limit}@${String(revision)}`;
}

/** Notes revisions of limits that were entered since the last time, and answers what is due by then. */
export function dueRechecks(tables: MemoryTables, now: string): LimitRecheck[] {
  for (const revision of readRevisions(tables)) {
    if (revision.kind !== 'limit' || revision.by === HOUSE) continue;
    const name = recheckName(revision.name, revision.revision);
    if (tables.rechecks.has(name)) continue;
    tables.rechecks.set(name, JSON.stringify(newRecheck(revision.name, revision.revision, effectiveAt(revision))));
  }
  return allRechecks(tables)
    .filter((one) => !isOver(one) && orderTime(one.effectiveAt) <= orderTime(now))
    .sort((a, b) => compareText(orderTime(a.effectiveAt), orderTime(b.effectiveAt)) || a.revision - b.revision);
}

export function allRechecks(tables: MemoryTables): LimitRecheck[] {
  return [...tables.rechecks.values()].map((row) => JSON.parse(row) as LimitRecheck);
}

/** Keys of what is in the house, in order. */
export function openKeysOf(tables: MemoryTables, kind: OpenKind, after: StreamKey | null, limit: number): StreamKey[] {
  const open = [...tables.ledgers.values()].filter(({ key, state }) => {
    const subject = JSON.parse(state) as SubjectState | null;
    const status = subject?.kind === kind && 'status' in subject.state ? subject.state.status : undefined;
    return status !== undefined && OPEN_STATUSES[kind].includes(status) && (after === null || key > after);
  });
  return open
    .map(({ key }) => key)
    .sort(compareText)
    .slice(0, limit);
}
