import { checkEvent, CheckedEvent, EventCheck } from './check-event.js';
import { isPlainJson } from './plain-json.js';
import { Fault, intakeProblem, Problem } from './problems.js';
import { sliceList } from './slice-list.js';
import { findJsonFaults, MOST_NESTED } from './strict-json.js';

/** One item of a request: an event that may go into the inbox, or why it may not. */
export type ReadItem =
  | { readonly index: number; readonly ok: true; readonly event: CheckedEvent }
  /** `id` is the event's, where one can be made out. */
  | { readonly index: number; readonly ok: false; readonly id: string | null; readonly problem: Problem };

/** What a request holds, item by item in its order; or what is wrong with the request as a whole. */
export type Reading =
  { readonly ok: true; readonly items: readonly ReadItem[] } | { readonly ok: false; readonly problem: Problem };

/** Events in one CloudEvents batch, and in one stream, unless told otherwise. */
const MOST_IN_BATCH = 1000;
const MOST_IN_STREAM = 10_000;

const LONGEST_ID = 128;

/** Reads one event in CloudEvents JSON format. Its reading has one item. */
export function readSingle(text: string): Reading {
  return { ok: true, items: [readItem(withoutMark(text), 0)] };
}

/** Reads a CloudEvents JSON batch. An item that cannot be read spoils only itself, as long as the list around it is whole. */
export function readBatch(text: string, { maxItems = MOST_IN_BATCH } = {}): Reading {
  const marked = withoutMark(text);
  const values = plainList(marked);
  if (values !== undefined) return readItems(values, maxItems, checkItem);
  const list = sliceList(marked);
  if (!('broken' in list)) return readItems(list.items, maxItems, readItem);
  const hint = 'A batch is a JSON list of events; a single event goes under application/cloudevents+json.';
  return { ok: false, problem: intakeProblem('unreadable-json', `${list.broken} ${hint}`) };
}

/** Reads newline-delimited JSON: an event a line, LF or CRLF, blank lines skipped and not counted. */
export function readStream(text: string, { maxItems = MOST_IN_STREAM } = {}): Reading {
  const lines = withoutMark(text).split('\n');
  const events = lines.filter((line) => /\S/.test(line));
  return readItems(events, maxItems, readItem);
}

function readItems<T>(given: readonly T[], maxItems: number, read: (one: T, index: number) => ReadItem): Reading {
  if (given.length > maxItems) {
    const detail = `There are ${given.length} events; send at most ${maxItems} at a time.`;
    return { ok: false, problem: intakeProblem('batch-too-large', detail) };
  }
  return { ok: true, items: given.map(read) };
}

/** The values of a list in which nothing is wrong, read at once; undefined where it must be looked at item by item. */
function plainList(text: string): readonly unknown[] | undefined {
  let values: unknown;
  try {
    values = JSON.parse(text);
  } catch {
    return undefined;
  }
  return Array.isArray(values) && isPlainJson(text, values, MOST_NESTED + 1) ? values : undefined;
}

/** RFC 8259, 8.1: a reader may pass over a byte order mark, and some exporters write one. */
function withoutMark(text: string): string {
  return text.startsWith('\uFEFF') ? text.slice(1) : text;
}

function readItem(text: string, index: number): ReadItem {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    const problem = intakeProblem('unreadable-json', unreadable(text, error));
    return { index, ok: false, id: null, problem };
  }
  const faults = isPlainJson(text, value, MOST_NESTED) ? [] : findJsonFaults(text);
  if (faults.length > 0) {
    const problem = intakeProblem('unreadable-json', summary(faults, faults.length), faults);
    return { index, ok: false, id: idOf(value), problem };
  }
  return checkItem(value, index);
}

function checkItem(value: unknown, index: number): ReadItem {
  const check = checkEvent(value);
  if (check.ok) return { index, ok: true, event: check.event };
  return { index, ok: false, id: idOf(value), problem: misshapen(check, value) };
}

function unreadable(text: string, error: unknown): string {
  if (text.trim() === '') return 'There is no event here, where one is expected.';
  return `This is no JSON: ${error instanceof Error ? error.message : String(error)}.`;
}

function misshapen({ faults, total }: Extract<EventCheck, { ok: false }>, value: unknown): Problem {
  const hint = Array.isArray(value) ? ' A list of events goes under application/cloudevents-batch+json.' : '';
  return intakeProblem('wrong-shape', summary(faults, total) + hint, faults);
}

function summary(faults: readonly Fault[], total: number): string {
  const [first] = faults;
  if (first === undefined) return '';
  const told = first.pointer === '' ? first.detail : `${first.pointer}: ${first.detail}`;
  if (total === 1) return told;
  const limit = total > faults.length ? `, of which ${faults.length} are told` : '';
  return `${told} (The first of ${total} faults${limit}.)`;
}

function idOf(value: unknown): string | null {
  if (typeof value !== 'object' || value === null || !Object.hasOwn(value, 'id')) return null;
  const { id } = value as { id: unknown };
  return typeof id === 'string' && id !== '' && id.length <= LONGEST_ID ? id : null;
}
