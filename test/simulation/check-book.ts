import { compareOrder, refKey } from '../../libs/domain/events/event-order.js';
import { seal } from '../../libs/evidence/seal.js';
import { ClearanceRecord } from '../../libs/ledger/clearances/clearance-record.js';
import { parseStored } from '../../libs/ledger/intake/parse-stored.js';
import { MemoryReadStore } from '../../libs/ledger/memory/memory-read-store.js';
import { MemoryRecountStore } from '../../libs/ledger/memory/memory-recount-store.js';
import { LedgerRow, MemoryTables } from '../../libs/ledger/memory/memory-tables.js';
import { entryOf, GENESIS_HASH } from '../../libs/ledger/ports/seal.js';
import { SetupBook } from '../../libs/ledger/setup/setup-book.js';
import { Picture, pictureOf } from '../support/book-picture.js';
import { recounted } from '../support/recounted.js';
import { silentLog } from '../support/silent-log.js';
import { ClientList } from './sim-client.js';
import { depsOf, foldUndisturbed } from './sim-shop.js';
import { storeOn } from './sim-store.js';

/** What a schedule began from, still untouched. */
interface Beginning {
  readonly tables: MemoryTables;
  readonly setup: SetupBook;
}

/** Everything that is wrong with a book after a schedule, in words. */
export async function checkBook(tables: MemoryTables, beginning: Beginning, list: ClientList): Promise<string[]> {
  return [
    ...checkEvents(tables, list),
    ...[...tables.ledgers.values()].flatMap(checkChain),
    ...checkClearances(tables, list),
    ...(await compareUndisturbed(tables, beginning, list)),
    ...(await recounted(new MemoryRecountStore(tables))).differences.map(
      ({ subject, what, kept, recomputed }) => `recount: ${subject}, ${what}: ${kept}, not ${recomputed}`,
    ),
  ];
}

/** Every event that somebody was answered for is in the ledger of its subject, once. */
function checkEvents({ inbox, numbers, ledgers }: MemoryTables, { acknowledged, odd }: ClientList): string[] {
  const faults = [...odd];
  for (const key of acknowledged) {
    const row = inbox.get(numbers.get(key) ?? 0);
    const entries = row === undefined ? [] : (ledgers.get(row.subject)?.entries ?? []);
    const told = entries.filter((entry) => entry.event === key && entryOf(entry).type === row?.type).length;
    if (told !== 1) faults.push(`event ${key} was acknowledged and is told ${String(told)} times`);
  }
  return faults;
}

function checkChain({ key, entries }: LedgerRow): string[] {
  let before = GENESIS_HASH;
  return entries.flatMap((row, n) => {
    const { seq, prevHash } = entryOf(row);
    const isWhole = seq === n + 1 && prevHash === before && seal.sha256Hex(row.bytes) === row.hash;
    before = row.hash;
    return isWhole ? [] : [`entry ${String(n + 1)} of ${key} does not follow`];
  });
}

/** What clients were told was granted stands, one request was granted once, and each end of a clearance is told once. */
function checkClearances({ clearances, ledgers }: MemoryTables, { granted, keyed }: ClientList): string[] {
  const records = [...clearances.values()].map((row) => JSON.parse(row) as ClearanceRecord);
  const faults: string[] = [];
  for (const [name, ids] of granted) {
    for (const id of ids) if (!clearances.has(id)) faults.push(`clearance ${id} of ${name} is not in the book`);
  }
  for (const name of keyed) {
    const count = records.filter(({ grantedTo }) => grantedTo === name).length;
    if (count > 1) faults.push(`one request of ${name} was granted ${String(count)} times`);
  }
  const acts = [...ledgers.values()].flatMap(({ entries }) => entries.map(entryOf)).flatMap(({ effects }) => effects);
  const told = new Map<string, number>();
  for (const effect of acts as readonly { kind: string; clearance?: string }[]) {
    if (!/^clearance-(granted|returned|lapsed)$/.test(effect.kind)) continue;
    const act = `${effect.kind} ${String(effect.clearance)}`;
    told.set(act, (told.get(act) ?? 0) + 1);
  }
  for (const [act, times] of told) if (times > 1) faults.push(`${act} is told ${String(times)} times`);
  return faults;
}

/** The same facts, told in the order in which they happened with nobody else at work, make the same book. */
async function compareUndisturbed(
  disturbed: MemoryTables,
  { tables, setup }: Beginning,
  { said }: ClientList,
): Promise<string[]> {
  for (const [id, row] of disturbed.clearances) tables.clearances.set(id, asGranted(row));
  const clock = { now: () => '2026-04-01T12:00:00.000Z' };
  const store = storeOn(tables, () => clock.now());
  let ids = 0;
  const deps = depsOf(store, { setup, clock, newId: () => `calm-${String((ids += 1))}`, log: silentLog });
  const posted = [...disturbed.inbox.values()].filter(({ number }) => !tables.inbox.has(number));
  const events = posted.map((row) => ({ row, order: parseStored(row.payload).order }));
  events.sort((a, b) => compareOrder(a.order, b.order));
  await foldUndisturbed(
    deps,
    events.flatMap(({ row }) => said.get(refKey(row)) ?? []),
  );
  const [calm, seen] = await Promise.all([drawn(tables), drawn(disturbed)]);
  return differences(calm, seen);
}

/** A clearance as it was when nobody had done anything of it. */
function asGranted(row: string): string {
  const record = JSON.parse(row) as ClearanceRecord;
  return JSON.stringify({ ...record, steps: record.steps.map((step) => ({ ...step, use: null })) });
}

type Drawn = Picture & { readonly uses: Record<string, string> };

async function drawn(tables: MemoryTables): Promise<Drawn> {
  const uses = [...tables.clearances.values()].map((row) => {
    const { id, steps } = JSON.parse(row) as ClearanceRecord;
    return [id, steps.map(({ use }) => (use === null ? '-' : refKey(use))).join(', ')] as const;
  });
  return { ...(await pictureOf(new MemoryReadStore(tables))), uses: Object.fromEntries(uses) };
}

function differences(calm: Drawn, seen: Drawn): string[] {
  const parts = Object.keys(calm) as (keyof Drawn)[];
  return parts.flatMap((part) => {
    const [one, other] = [linesOf(calm[part]), linesOf(seen[part])];
    const only = (lines: readonly string[], others: readonly string[]): string[] =>
      lines.filter((line) => !others.includes(line));
    const [missing, added] = [only(one, other), only(other, one)];
    if (missing.length + added.length === 0) return [];
    return [`the same facts undisturbed, ${part}: ${missing.join('; ')} and not ${added.join('; ')}`];
  });
}

function linesOf(part: Drawn[keyof Drawn]): string[] {
  return Object.entries(part).map(([key, value]) => `${key} ${JSON.stringify(value)}`);
}
