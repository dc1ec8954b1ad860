import { setImmediate as turn } from 'node:timers/promises';
import { seal } from '../../evidence/seal.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { AcceptedEvents, acceptEvents } from './accept-events.js';
import { InboxBatcher } from './inbox-batcher.js';
import { readBatch } from './read-events.js';
import { ListedInbox } from './spec-support/listed-inbox.js';
import { cleanedEvent } from './spec-support/sample-events.js';

const STATION = '/stations/rework-3';

function setUp() {
  const inbox = new ListedInbox();
  const woken: StreamKey[] = [];
  const deps = {
    inbox: new InboxBatcher(inbox),
    seal,
    wake: (subjects: readonly StreamKey[]) => {
      woken.push(...subjects);
    },
  };
  const post = (text: string): Promise<AcceptedEvents> => {
    const reading = readBatch(text);
    if (!reading.ok) throw new Error(reading.problem.detail);
    return acceptEvents(deps, reading.items, { maySpeakFor: (source) => source === STATION });
  };
  return { inbox, woken, post };
}

function batch(...events: unknown[]): string {
  return JSON.stringify(events);
}

describe('accepting events', () => {
  it('takes 990 of a batch of 1000 with 10 bad items, and says of each of the ten what is wrong', async () => {
    const { inbox, post } = setUp();
    const bad = new Map<number, { text: string; id: string | null; code: string; pointer: string | null }>([
      [3, { text: '{"id": "a" "b"}', id: null, code: 'unreadable-json', pointer: null }],
      [99, { text: '{"id":"b",,}', id: null, code: 'unreadable-json', pointer: null }],
      [100, { text: '{"id":"c","type":1,"type":2}', id: 'c', code: 'unreadable-json', pointer: '/type' }],
      [250, { text: json('d', { source: '/stations/other' }), id: 'd', code: 'foreign-source', pointer: '/source' }],
      [251, { text: json('e', { type: 'heatbook.site.polished.v1' }), id: 'e', code: 'wrong-shape', pointer: '/type' }],
      [400, { text: json('f', { subject: 'devices/D-1' }), id: 'f', code: 'wrong-shape', pointer: '/subject' }],
      [500, { text: json('g', { time: 'yesterday' }), id: 'g', code: 'wrong-shape', pointer: '/time' }],
      [
        501,
        {
          text: json('h', { data: { refdes: 'U 7', agent: 'x' } }),
          id: 'h',
          code: 'wrong-shape',
          pointer: '/data/refdes',
        },
      ],
      [777, { text: json('i', { data: { refdes: 'U7' } }), id: 'i', code: 'wrong-shape', pointer: '/data/agent' }],
      [999, { text: json('e-0', { subject: 'CTRL-7/OTHER' }), id: 'e-0', code: 'event-conflict', pointer: '/id' }],
    ]);
    const texts = Array.from({ length: 1000 }, (_, index) => bad.get(index)?.text ?? json(`e-${index}`));
    const answer = await post(`[${texts.join(',\n')}]`);
    expect(answer).toMatchObject({ accepted: 990, duplicates: 0, rejected: 10 });
    expect(inbox.stored.size).toBe(990);
    answer.items.forEach((item, index) => {
      const expected = bad.get(index);
      if (expected === undefined) {
        expect(item).toEqual({ id: `e-${index}`, state: 'accepted' });
        return;
      }
      expect(item).toMatchObject({ id: expected.id, state: 'rejected' });
      if (item.state !== 'rejected') return;
      expect(item.problem.type).toBe(`urn:heatbook:problem:${expected.code}`);
      expect(item.problem.errors.map(({ pointer }) => pointer)).toEqual(
        expected.pointer === null ? [] : [expected.pointer],
      );
      expect(item.problem.detail).toMatch(/\w{3}/);
    });
  });

  it('answers a repeat as duplicate however it is spelt, and other content under the same id as conflict', async () => {
    const { post } = setUp();
    const event = cleanedEvent('1');
    const reordered = Object.fromEntries(Object.entries(event).reverse());
    expect(await post(batch(event, reordered, { ...event, data: { refdes: 'U7', agent: 'another' } }))).toMatchObject({
      accepted: 1,
      duplicates: 1,
      rejected: 1,
    });
    expect(await post(JSON.stringify([event], null, 2))).toMatchObject({ duplicates: 1 });
    const later = await post(batch({ ...event, time: '2031-05-09T14:06:31+02:00' }, event));
    expect(later.items.map(({ state }) => state)).toEqual(['rejected', 'duplicate']);
    const [conflict] = later.items;
    expect(conflict?.state === 'rejected' && conflict.problem).toMatchObject({
      status: 409,
      detail: expect.stringContaining('under an id of its own') as string,
    });
  });

  it('does not ask the inbox about events of a source that the caller may not speak for', async () => {
    const { inbox, woken, post } = setUp();
    const answer = await post(batch(cleanedEvent('1', { source: '/stations/other' })));
    expect(answer.items).toMatchObject([{ id: '1', state: 'rejected', problem: { status: 403 } }]);
    expect(inbox.calls).toEqual([]);
    expect(woken).toEqual([]);
  });

  it('wakes for what is new, once it is durable, and not for what was known', async () => {
    const { inbox, woken, post } = setUp();
    let open = (): void => undefined;
    inbox.gate = () => new Promise((resolve) => (open = resolve));
    const posted = post(batch(cleanedEvent('1'), cleanedEvent('2', { subject: 'CTRL-7/SN2' })));
    await turn();
    expect(inbox.inFlight).toBe(1);
    expect(woken).toEqual([]);
    open();
    await posted;
    expect(woken).toEqual(['CTRL-7/SN00042', 'CTRL-7/SN2']);
    inbox.gate = () => Promise.resolve();
    await post(batch(cleanedEvent('1')));
    expect(woken).toHaveLength(2);
  });

  it('fails as a whole where the inbox does, and the same request can be repeated', async () => {
    const { inbox, woken, post } = setUp();
    inbox.gate = (call) => (call === 1 ? Promise.reject(new Error('database gone')) : Promise.resolve());
    await expect(post(batch(cleanedEvent('1')))).rejects.toThrow('database gone');
    expect(woken).toEqual([]);
    expect(await post(batch(cleanedEvent('1')))).toMatchObject({ accepted: 1 });
  });
});

function json(id: string, change: Record<string, unknown> = {}): string {
  return JSON.stringify(cleanedEvent(id, change));
}
