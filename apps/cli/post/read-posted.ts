import { readBatch, ReadItem, readSingle, readStream } from '../../../libs/ledger/intake/read-events.js';
import { UnusableInput } from '../service/unusable-input.js';

/** An event as it was found, or why there is none. */
export interface PostedItem {
  /** Such as `line 3` or `event 2`. */
  readonly where: string;
  readonly item: ReadItem;
}

/** A list or one event is read as a whole, so it has to fit into memory; a line an event has no end. */
const MOST_WHOLE = 64 * 2 ** 20;

/**
 * Reads events in any of the forms that the intake takes, found out by how the text begins: a JSON list, one event over several lines, or
 * an event a line. The latter are given as soon as their lines are whole.
 * @throws UnusableInput where the text as a whole is no list, or too large to be one
 */
export async function* readPosted(chunks: AsyncIterable<string>): AsyncGenerator<readonly PostedItem[]> {
  let rest = '';
  let lines: number | undefined;
  for await (const chunk of chunks) {
    rest += chunk;
    if (lines === undefined && beginsWithLine(rest)) lines = 0;
    if (lines === undefined && rest.length > MOST_WHOLE) {
      throw new UnusableInput('A list of events may have 64 MiB: write an event a line (NDJSON) instead.');
    }
    const end = rest.lastIndexOf('\n') + 1;
    if (lines === undefined || end === 0) continue;
    yield lineItems(rest.slice(0, end), lines);
    lines += rest.slice(0, end).split('\n').length - 1;
    rest = rest.slice(end);
  }
  if (lines !== undefined || isLine(rest)) yield lineItems(rest, lines ?? 0);
  else yield wholeItems(rest);
}

/** Whether the first line is an event by itself. */
function beginsWithLine(text: string): boolean {
  const end = text.indexOf('\n', text.search(/\S/));
  return end > 0 && isLine(text.slice(0, end));
}

function isLine(text: string): boolean {
  const line = text.trim();
  if (!line.startsWith('{') || line.includes('\n')) return false;
  try {
    JSON.parse(line);
    return true;
  } catch {
    return false;
  }
}

function lineItems(text: string, before: number): readonly PostedItem[] {
  const places = text.split('\n').flatMap((line, n) => (/\S/.test(line) ? [before + n + 1] : []));
  const reading = readStream(text, { maxItems: Infinity });
  if (!reading.ok) throw new UnusableInput(reading.problem.detail);
  return reading.items.map((item, n) => ({ where: `line ${String(places[n])}`, item }));
}

function wholeItems(text: string): readonly PostedItem[] {
  if (text.trim() === '') throw new UnusableInput('There is no event in it.');
  const isList = text
    .replace(/^\uFEFF/, '')
    .trimStart()
    .startsWith('[');
  const reading = isList ? readBatch(text, { maxItems: Infinity }) : readSingle(text);
  if (!reading.ok) throw new UnusableInput(reading.problem.detail);
  return reading.items.map((item, n) => ({ where: isList ? `event ${String(n + 1)}` : 'the event', item }));
}
