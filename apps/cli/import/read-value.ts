import { pointerToken } from '../../../libs/ledger/intake/json-pointer.js';
import { readLocalTime } from './local-time.js';
import { CellMap, columnsIn, RowContext, ValueMap, ValueReading } from './value-map.js';

/**
 * Reads a value of an event from a row. What comes from empty cells is left out: a text with an empty cell in it, and an object of
 * which all cells are empty.
 * @param pointer of the value in the event
 */
export function readValue(map: ValueMap, row: RowContext, pointer: string): ValueReading {
  const columns = columnsIn(map);
  if (columns.length > 0) row.origin(pointer, columns);
  switch (map.kind) {
    case 'constant':
      return { value: map.value, cells: 'none' };
    case 'template':
      return readTemplate(map.parts, row);
    case 'cell':
      return readCell(map, row, pointer);
    case 'object':
      return together(
        map.members.map(([, member], n) => readValue(member, row, pointer + pointerToken(map.members[n]?.[0] ?? ''))),
        (readings) =>
          Object.fromEntries(
            map.members.flatMap(([name], n) => (readings[n]?.value === undefined ? [] : [[name, readings[n].value]])),
          ),
      );
    case 'list':
      return readList(map.items, row, pointer);
  }
}

/** A list without items says something too: that nothing was measured. */
function readList(items: readonly ValueMap[], row: RowContext, pointer: string): ValueReading {
  const reading = together(
    items.map((item, n) => readValue(item, row, pointer + pointerToken(n))),
    (readings) => readings.flatMap(({ value }) => (value === undefined ? [] : [value])),
  );
  return { ...reading, value: reading.value ?? [] };
}

function together(
  readings: readonly ValueReading[],
  value: (readings: readonly ValueReading[]) => unknown,
): ValueReading {
  const cells = ['filled', 'empty'] as const;
  const told = cells.find((state) => readings.some((reading) => reading.cells === state)) ?? 'none';
  return { value: told === 'empty' ? undefined : value(readings), cells: told };
}

function readTemplate(parts: (ValueMap & { kind: 'template' })['parts'], row: RowContext): ValueReading {
  const texts = parts.map((part) => (typeof part === 'string' ? part : row.cell(part.column)));
  const isWhole = parts.every((part, n) => typeof part === 'string' || texts[n] !== '');
  const isFilled = parts.some((part, n) => typeof part !== 'string' && texts[n] !== '');
  return { value: isWhole ? texts.join('') : undefined, cells: isFilled ? 'filled' : 'empty' };
}

function readCell(map: CellMap, row: RowContext, pointer: string): ValueReading {
  const { columns, values, fallback } = map;
  const text = columns
    .map((column) => row.cell(column))
    .filter((cell) => cell !== '')
    .join(' ');
  if (text === '') return { value: fallback, cells: 'empty' };
  if (values === undefined) return { value: asValue(map, text, row, pointer), cells: 'filled' };
  if (values.has(text)) return { value: values.get(text), cells: 'filled' };
  row.fault(columns, `"${text}" is none of the values of the map: ${[...values.keys()].join(', ')}`);
  return { value: undefined, cells: 'filled' };
}

function asValue({ as, format, columns }: CellMap, text: string, row: RowContext, pointer: string): unknown {
  switch (as) {
    case 'text':
      return text;
    case 'number':
      return (
        figureIn(text, row.decimal) ??
        refused(row, columns, `"${text}" is no number with "${row.decimal}" before decimals`)
      );
    case 'flag':
      return flagIn(text) ?? refused(row, columns, `"${text}" is neither yes nor no`);
    case 'time': {
      const reading = readLocalTime(text, format, row.timeZone, pointer === '/time' ? row.tie : 0);
      if ('fault' in reading) return refused(row, columns, reading.fault);
      if (reading.note !== undefined) row.note(columns, reading.note);
      return reading.time;
    }
  }
}

function refused(row: RowContext, columns: readonly string[], detail: string): unknown {
  row.fault(columns, detail);
  return undefined;
}

/** Digits with one decimal sign. A sign between thousands is not guessed at: 1.234 may be either. */
function figureIn(text: string, decimal: '.' | ','): number | undefined {
  const form = decimal === ',' ? /^[+-]?\d+(,\d+)?$/ : /^[+-]?\d+(\.\d+)?$/;
  return form.test(text) ? Number(text.replace(',', '.')) : undefined;
}

const FLAGS: ReadonlyMap<string, boolean> = new Map([
  ...['true', 'yes', 'y', '1', 'x'].map((word) => [word, true] as const),
  ...['false', 'no', 'n', '0'].map((word) => [word, false] as const),
]);

function flagIn(text: string): boolean | undefined {
  return FLAGS.get(text.toLowerCase());
}
