import { Reading, ReadItem, readBatch, readSingle, readStream } from './read-events.js';
import { cleanedEvent } from './spec-support/sample-events.js';

const GOOD = JSON.stringify(cleanedEvent('good'));

function itemsOf(reading: Reading): readonly ReadItem[] {
  if (!reading.ok) throw new Error(reading.problem.detail);
  return reading.items;
}

function onlyItem(text: string): ReadItem {
  const [item, ...others] = itemsOf(readSingle(text));
  if (item === undefined || others.length > 0) throw new Error('a single event has one item');
  return item;
}

describe('reading a single event', () => {
  it('gives the event with its identity', () => {
    expect(onlyItem(`\uFEFF${GOOD}\n`)).toMatchObject({
      index: 0,
      ok: true,
      event: { id: 'good', source: '/stations/rework-3' },
    });
  });

  it.each([
    ['', 'unreadable-json', 400, null],
    ['{"id":"x",}', 'unreadable-json', 400, null],
    ['{"id":"x","id":"x"}', 'unreadable-json', 400, 'x'],
    ['{"id":"x","n":1e999}', 'unreadable-json', 400, 'x'],
    [`{"id":"x","n":${'['.repeat(40)}${']'.repeat(40)}}`, 'unreadable-json', 400, 'x'],
    ['{"id":"x"}', 'wrong-shape', 422, 'x'],
    ['{"id":7}', 'wrong-shape', 422, null],
    [`{"id":"${'x'.repeat(2000)}"}`, 'wrong-shape', 422, null],
    ['{"__proto__":{"id":"x"}}', 'wrong-shape', 422, null],
    ['[]', 'wrong-shape', 422, null],
    ['null', 'wrong-shape', 422, null],
  ])('turns %j away as %s', (text, code, status, id) => {
    const problem = { type: `urn:heatbook:problem:${code}`, status };
    expect(onlyItem(text)).toMatchObject({ ok: false, id, problem });
  });

  it('says in the problem what is wrong, and where', () => {
    const item = onlyItem(JSON.stringify(cleanedEvent('x', { subject: 'CTRL-7', data: { refdes: 'U7' } })));
    expect(item.ok ? null : item.problem).toEqual({
      type: 'urn:heatbook:problem:wrong-shape',
      title: 'The event has not the shape of its type',
      status: 422,
      detail: '/data/agent: The member "agent" is missing (What it was cleaned with). (The first of 2 faults.)',
      errors: [
        { pointer: '/data/agent', detail: 'The member "agent" is missing (What it was cleaned with).' },
        {
          pointer: '/subject',
          detail: 'The subject of heatbook.site.cleaned.v1 is {assembly}/{serial}, but this is "CTRL-7".',
        },
      ],
    });
  });
});

describe('reading a batch', () => {
  it('lets bad items spoil only themselves', () => {
    const items = itemsOf(readBatch(`[${GOOD}, {"id":, }, {"id":"a","id":"a"}, ${GOOD}, ]`));
    expect(items.map(({ index, ok }) => [index, ok])).toEqual([
      [0, true],
      [1, false],
      [2, false],
      [3, true],
      [4, false],
    ]);
  });

  it.each([GOOD, '', '[', `[${GOOD}`, `[${GOOD}] x`])('turns away what is no list: %s', (text) => {
    const problem = { type: 'urn:heatbook:problem:unreadable-json', status: 400 };
    expect(readBatch(text)).toMatchObject({ ok: false, problem });
  });

  it('takes as many as it may and no more', () => {
    expect(itemsOf(readBatch('[]'))).toEqual([]);
    expect(itemsOf(readBatch('[1,2,3]', { maxItems: 3 }))).toHaveLength(3);
    expect(readBatch('[1,2,3,4]', { maxItems: 3 })).toMatchObject({ ok: false, problem: { status: 413 } });
    expect(readBatch(`[${Array<number>(1001).fill(0).join(',')}]`)).toMatchObject({
      ok: false,
      problem: { status: 413 },
    });
  });
});

describe('reading a stream', () => {
  it('takes a line for an event, however lines end, and skips blank ones', () => {
    const items = itemsOf(readStream(`\n${GOOD}\r\n\r\n  \n{"id":"x"\n${GOOD}`));
    expect(items.map(({ index, ok }) => [index, ok])).toEqual([
      [0, true],
      [1, false],
      [2, true],
    ]);
    expect(itemsOf(readStream('\n\n'))).toEqual([]);
  });

  it('takes as many as it may and no more', () => {
    expect(readStream('1\n2\n3\n', { maxItems: 2 })).toMatchObject({ ok: false, problem: { status: 413 } });
    expect(readStream('1\n'.repeat(10_001))).toMatchObject({ ok: false, problem: { status: 413 } });
  });
});
