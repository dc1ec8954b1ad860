import { usedOf } from '../../libs/domain/book/tally.js';
import { subjectKey } from '../../libs/domain/subject/subject.js';
import { isOpen, Reservation } from '../../libs/domain/clearance/clearance.js';
import { ClearanceRecord } from '../../libs/ledger/clearances/clearance-record.js';
import { MemoryTables } from '../../libs/ledger/memory/memory-tables.js';
import { SubjectState } from '../../libs/ledger/ports/book-store.js';
import { LIMITS } from '../reference/gate-words.js';

/**
 * Looks, in the moment in which a clearance is committed, whether what is used and what all open clearances hold back are
 * together within the limit, for everything that it reserves. What comes later may overdraw it; a grant may not.
 */
export function guardOverdrafts(tables: MemoryTables, tell: (what: string) => void): void {
  const { clearances } = tables;
  const set = clearances.set.bind(clearances);
  clearances.set = (id, row) => {
    const isNew = !clearances.has(id);
    set(id, row);
    if (isNew) for (const what of overdrawnBy(JSON.parse(row) as ClearanceRecord, tables)) tell(what);
    return clearances;
  };
}

function overdrawnBy(granted: ClearanceRecord, tables: MemoryTables): string[] {
  const all = [...tables.clearances.values()].map((row) => JSON.parse(row) as ClearanceRecord);
  // As the clock has it of whoever granted this one.
  const open = all.filter((one) => isOpen(one, granted.grantedAt));
  const held = open.flatMap(({ steps }) => steps.flatMap(({ use, reserves }) => (use === null ? reserves : [])));
  // Facts may have overdrawn what this one would only possibly spend.
  const own = granted.steps.flatMap(({ reserves }) => reserves).filter(({ counted }) => counted > 0);
  const budgets = new Map(own.map((one) => [keyOf(one), one]));
  return [...budgets].flatMap(([key, one]) => {
    const limit = LIMITS[one.limit];
    const reserved = held.filter((other) => keyOf(other) === key).reduce((sum, { counted }) => sum + counted, 0);
    const used = usedIn(tables, one);
    if (limit.action !== 'hold' || used + reserved <= limit.allowed) return [];
    return [`clearance of ${granted.grantedTo} overdraws ${key}: used ${String(used)}, reserved ${String(reserved)}`];
  });
}

function keyOf({ limit, subject }: Reservation): string {
  return `${limit} ${subjectKey(subject)}`;
}

function usedIn(tables: MemoryTables, { limit, subject }: Reservation): number {
  const key = subjectKey(subject);
  const [ledger = '', refdes = ''] = key.split('#');
  const row = tables.ledgers.get(ledger);
  const known = row === undefined ? null : (JSON.parse(row.state) as SubjectState | null);
  if (known?.kind === 'device') return usedOf(known.state.excursions);
  if (known?.kind !== 'unit') return 0;
  if (limit === 'unit-reflows') return usedOf(known.state.reflows);
  const site = known.state.sites[refdes];
  if (site === undefined) return 0;
  if (limit === 'site-reworks') return usedOf(site.reworks);
  return usedOf(limit === 'site-dressings' ? site.dressings : site.excursions);
}
