import { Readable } from 'node:stream';
import { sampleEvent } from '../../api/spec-support/sample-setup.js';
import { UnusableInput } from '../service/unusable-input.js';
import { PostedItem, readPosted } from './read-posted.js';

const EVENT = sampleEvent('heatbook.site.cleaned.v1', { refdes: 'U1', agent: 'solvent' });
const LINE = JSON.stringify(EVENT);

/** What is given after each chunk. */
async function read(...chunks: string[]): Promise<(readonly PostedItem[])[]> {
  const given: (readonly PostedItem[])[] = [];
  for await (const items of readPosted(Readable.from(chunks))) given.push(items);
  return given;
}

function placesOf(given: (readonly PostedItem[])[]): [string, boolean][] {
  return given.flat().map(({ where, item }) => [where, item.ok]);
}

it('reads one event, a list, and an event a line, found out by how they begin', async () => {
  expect(placesOf(await read(LINE))).toEqual([['line 1', true]]);
  expect(placesOf(await read(JSON.stringify(EVENT, null, 2)))).toEqual([['the event', true]]);
  expect(placesOf(await read(`\uFEFF [${LINE},`, `${LINE}]\n`))).toEqual([
    ['event 1', true],
    ['event 2', true],
  ]);
  expect(placesOf(await read(`\n${LINE}\r\n\r\n{"a"\n${LINE}`))).toEqual([
    ['line 2', true],
    ['line 4', false],
    ['line 5', true],
  ]);
});

it('gives lines as soon as they are whole, and counts on', async () => {
  const given = await read(`${LINE}\n${LINE.slice(0, 20)}`, `${LINE.slice(20)}\n`, `{}\n${LINE}`);
  expect(given.map((items) => items.map(({ where }) => where))).toEqual([
    ['line 1'],
    ['line 2'],
    ['line 3'],
    ['line 4'],
  ]);
  expect(placesOf(given)).toEqual([
    ['line 1', true],
    ['line 2', true],
    ['line 3', false],
    ['line 4', true],
  ]);
});

it('finds what two readers could take differently, as the intake does', async () => {
  const [[first] = []] = await read(`${LINE.replace('{', '{"id":"x",')}\n`);
  expect(first?.item).toMatchObject({
    ok: false,
    problem: { status: 400, detail: expect.stringContaining('more than once') as string },
  });
});

it.each(['', ' \n', '[', `[${LINE}`])('refuses %j as a whole', async (text) => {
  await expect(read(text)).rejects.toThrow(UnusableInput);
});
