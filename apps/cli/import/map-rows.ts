import { createHash } from 'node:crypto';
import { checkEvent } from '../../../libs/ledger/intake/check-event.js';
import { EventRule, ImportMap, RowCondition, shortType } from './import-map.js';
import { readValue } from './read-value.js';
import { TableRow } from './read-table.js';
import { RowContext, ValueMap } from './value-map.js';

/** Something wrong, or taken for granted, in a row. */
export interface RowFault {
  readonly columns: readonly string[];
  readonly detail: string;
}

export type StationEventBody = Readonly<Record<string, unknown>> & {
  readonly id: string;
  readonly source: string;
  readonly type: string;
  readonly subject: string;
  readonly time: string;
};

/** What became of a row: events where all of them are fit; faults where it cannot be taken. */
export interface MappedRow {
  readonly row: number;
  readonly state: 'mapped' | 'skipped' | 'unmatched' | 'unfit';
  readonly events: readonly StationEventBody[];
  readonly faults: readonly RowFault[];
  readonly notes: readonly RowFault[];
}

/** Makes events of rows, checked by the schemas that the service has. The same rows make the same events, ids included. */
export function mapRows(map: ImportMap, rows: readonly TableRow[]): readonly MappedRow[] {
  const seen = { keys: new Map<string, number>(), copies: new Map<string, number>(), times: new Map<string, number>() };
  return rows.map((row) => {
    const nothing = { row: row.row, events: [], faults: [], notes: [] };
    if (map.skip.some((condition) => fits(row, condition))) return { ...nothing, state: 'skipped' };
    const rules = map.events.filter(({ when }) => fits(row, when));
    if (rules.length === 0) {
      const columns = [...new Set(map.events.flatMap(({ when }) => [...when.keys()]))];
      const told = columns.map((column) => `${column} "${row.cells.get(column) ?? ''}"`).join(', ');
      return { ...nothing, state: 'unmatched', faults: [{ columns, detail: `no event of the map is for ${told}` }] };
    }
    return mapRow(map, row, rules, seen);
  });
}

/** A cell that several members come from is wrong once. */
function addOnce(found: RowFault[], { columns, detail }: RowFault): void {
  const isKnown = found.some((one) => one.detail === detail && one.columns.join() === columns.join());
  if (!isKnown) found.push({ columns, detail });
}

interface Seen {
  /** Keys of rows that came before, with their row. */
  readonly keys: Map<string, number>;
  /** How often the same content came before. */
  readonly copies: Map<string, number>;
  /** How many events came before that the log puts at the same time. */
  readonly times: Map<string, number>;
}

function fits({ cells }: TableRow, condition: RowCondition): boolean {
  return [...condition].every(([column, wanted]) => wanted.includes(cells.get(column) ?? ''));
}

function mapRow(map: ImportMap, row: TableRow, rules: readonly EventRule[], seen: Seen): MappedRow {
  const faults: RowFault[] = [];
  const notes: RowFault[] = [];
  const context = (origins: Map<string, readonly string[]>, tie: number): RowContext => ({
    cell: (column) => row.cells.get(column) ?? '',
    timeZone: map.timeZone,
    decimal: map.decimal,
    tie,
    fault: (columns, detail) => {
      addOnce(faults, { columns, detail });
    },
    note: (columns, detail) => {
      addOnce(notes, { columns, detail });
    },
    origin: (pointer, columns) => origins.set(pointer, columns),
  });
  const key = keyOf(map.id, row, seen, context(new Map(), 0));
  const types = new Map<string, number>();
  const events = rules.map((rule) => {
    const nth = (types.get(rule.type) ?? 0) + 1;
    types.set(rule.type, nth);
    const id = `${key}/${shortType(rule.type)}${nth === 1 ? '' : `/${String(nth)}`}`;
    const origins = new Map<string, readonly string[]>();
    let unread = 0;
    const reading = (tie: number): RowContext => {
      const row = context(origins, tie);
      const fault: RowContext['fault'] = (columns, detail) => {
        unread += 1;
        row.fault(columns, detail);
      };
      return { ...row, fault };
    };
    const event = eventOf(rule, id, reading, seen);
    // What a cell lacks already is not told a second time by the schema.
    if (unread === 0) faults.push(...schemaFaults(event, origins));
    return event;
  });
  const state = faults.length === 0 ? 'mapped' : 'unfit';
  return { row: row.row, state, events: state === 'mapped' ? events : [], faults, notes };
}

function eventOf(
  rule: EventRule,
  id: string,
  context: (tie: number) => RowContext,
  { times }: Pick<Seen, 'times'>,
): StationEventBody {
  const silent: RowContext = { ...context(0), fault: () => undefined, note: () => undefined };
  const told = textIn(rule.time, silent, '/time');
  const tie = times.get(told) ?? 0;
  times.set(told, tie + 1);
  const row = context(tie);
  return {
    specversion: '1.0',
    id,
    source: `/stations/${textIn(rule.station, row, '/source')}`,
    type: rule.type,
    subject: textIn(rule.subject, row, '/subject'),
    time: textIn(rule.time, row, '/time'),
    data: readValue(rule.data, row, '/data').value ?? {},
  };
}

function textIn(map: ValueMap, row: RowContext, pointer: string): string {
  const { value } = readValue(map, row, pointer);
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}

/** Of the id column where the map has one, else of what the row says: where it stands in the file does not matter. */
function keyOf(id: ValueMap | undefined, row: TableRow, seen: Seen, context: RowContext): string {
  if (id === undefined) {
    const cells = [...row.cells].sort(([a], [b]) => (a < b ? -1 : 1));
    const content = `row-${createHash('sha256').update(JSON.stringify(cells)).digest('hex').slice(0, 32)}`;
    const copy = (seen.copies.get(content) ?? 0) + 1;
    seen.copies.set(content, copy);
    return copy === 1 ? content : `${content}-${String(copy)}`;
  }
  const columns: string[] = [];
  const key = textIn(id, { ...context, origin: (_pointer, found) => columns.push(...found) }, '');
  const before = seen.keys.get(key);
  if (key === '') context.fault(columns, 'is empty, but it is to name the row');
  else if (before !== undefined) context.fault(columns, `"${key}" names row ${String(before)} already`);
  else seen.keys.set(key, row.row);
  return key;
}

function schemaFaults(event: StationEventBody, origins: ReadonlyMap<string, readonly string[]>): readonly RowFault[] {
  const check = checkEvent(event);
  if (check.ok) return [];
  return check.faults.map(({ pointer, detail }) => ({
    columns: columnsAt(pointer, origins),
    detail: `${pointer}: ${detail}`,
  }));
}

/** The columns that a member comes from, or the innermost member around it that any column has a say in. */
function columnsAt(pointer: string, origins: ReadonlyMap<string, readonly string[]>): readonly string[] {
  const found = origins.get(pointer);
  if (found !== undefined) return found;
  // Everything of an event comes together in its data: that would name nearly all columns.
  const parent = pointer.slice(0, pointer.lastIndexOf('/'));
  return parent === '' || parent === '/data' ? [] : columnsAt(parent, origins);
}
