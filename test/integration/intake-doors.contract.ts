import { sampleEvent } from '../../apps/api/spec-support/sample-setup.js';
import { AcceptedEvents } from '../../libs/ledger/intake/accept-events.js';
import { INSTALL_MS } from '../support/mqtt-brokers.js';
import { HouseCalls } from '../support/running-house.js';

/** A way for events to come in, as a station has it. */
export interface IntakeDoor {
  readonly house: HouseCalls;
  /**
   * Sends as a station and returns the answer. Where a door answers a lone event by its problem, that is the one item.
   * @param type media type; plain JSON where it is left out
   */
  send(station: string, payload: string | Buffer, type?: string): Promise<AcceptedEvents>;
  close(): Promise<void>;
}

interface DoorTraits {
  /** Whether a sender can name a media type. */
  readonly namesType: boolean;
}

const BATCH = 'application/cloudevents-batch+json';
const AT_ONCE = 20;

/** What every door to the intake must do, over a real Postgres. */
export function describeIntakeDoor(name: string, { namesType }: DoorTraits, open: () => Promise<IntakeDoor>): void {
  describe(`the door by ${name}`, () => {
    let door: IntakeDoor;

    beforeAll(async () => {
      door = await open();
    }, INSTALL_MS);

    afterAll(() => door.close());

    /** A good event of a station, with whatever else it should be. */
    function event(over: object = {}): Record<string, unknown> {
      return sampleEvent('heatbook.unit.received.v1', {}, { source: '/stations/DOOR-1', ...over });
    }

    function sendAll(values: readonly object[], station = 'DOOR-1'): Promise<AcceptedEvents> {
      return door.send(station, JSON.stringify(values), namesType ? BATCH : undefined);
    }

    async function isKept({ source, id }: Record<string, unknown>): Promise<boolean> {
      const query = new URLSearchParams({ source: String(source), id: String(id) });
      const { status } = await door.house.call('GET', `/v1/events?${query.toString()}`);
      expect([200, 404]).toContain(status);
      return status === 200;
    }

    /** Of each item its state, or what is wrong with it. */
    function tale({ items }: AcceptedEvents): string[] {
      return items.map((item) =>
        item.state === 'rejected' ? `${item.problem.status} ${item.problem.type.split(':').at(-1) ?? ''}` : item.state,
      );
    }

    it('takes an event once, knows it again, and refuses other content under its id', async () => {
      const first = event();
      expect(await isKept(first)).toBe(false);
      expect(await door.send('DOOR-1', JSON.stringify(first))).toEqual({
        ...{ accepted: 1, duplicates: 0, rejected: 0 },
        items: [{ id: first['id'], state: 'accepted' }],
      });
      expect(await isKept(first)).toBe(true);
      expect(await door.send('DOOR-1', JSON.stringify(first))).toEqual({
        ...{ accepted: 0, duplicates: 1, rejected: 0 },
        items: [{ id: first['id'], state: 'duplicate' }],
      });
      expect(tale(await door.send('DOOR-1', JSON.stringify({ ...first, subject: 'BRD-1/OTHER' })))).toEqual([
        '409 event-conflict',
      ]);
    });

    it('takes a batch in which bad events do not spoil good ones', async () => {
      const [good, other] = [event(), event()];
      const bad = event({ data: { priorReflows: 'two' } });
      const foreign = event({ source: '/stations/DOOR-2' });
      const answer = await sendAll([good, bad, foreign, good, other]);
      expect(tale(answer)).toEqual(['accepted', '422 wrong-shape', '403 foreign-source', 'duplicate', 'accepted']);
      expect(answer).toMatchObject({ accepted: 2, duplicates: 1, rejected: 2 });
      const faults = answer.items.flatMap((item) => (item.state === 'rejected' ? item.problem.errors : []));
      expect(faults.map(({ pointer }) => pointer)).toEqual(['/data/priorReflows', '/source']);
      const kept = await Promise.all([good, bad, foreign, other].map(isKept));
      expect(kept).toEqual([true, false, false, true]);
    });

    it('lets a station speak for itself alone', async () => {
      const mine = event({ source: '/stations/DOOR-2' });
      expect(tale(await door.send('DOOR-1', JSON.stringify(mine)))).toEqual(['403 foreign-source']);
      expect(await isKept(mine)).toBe(false);
      expect(tale(await door.send('DOOR-2', JSON.stringify(mine)))).toEqual(['accepted']);
    });

    it('answers what it cannot read', async () => {
      expect(tale(await door.send('DOOR-1', '{"specversion":'))).toEqual(['400 unreadable-json']);
      expect(tale(await door.send('DOOR-1', ''))).toEqual(['400 unreadable-json']);
      expect(tale(await door.send('DOOR-1', Buffer.from([0x7b, 0xff, 0x7d])))).toEqual(['400 unreadable-json']);
      expect(tale(await door.send('DOOR-1', '{"id":"a","id":"b"}'))).toEqual(['400 unreadable-json']);
      expect(tale(await door.send('DOOR-1', '"no event"'))).toEqual(['422 wrong-shape']);
      expect(tale(await sendAll(Array.from({ length: 1001 }, () => event())))).toEqual(['413 batch-too-large']);
    });

    it('takes one event that comes many times at once a single time', async () => {
      const once = JSON.stringify(event());
      const answers = await Promise.all(Array.from({ length: AT_ONCE }, () => door.send('DOOR-1', once)));
      const states = answers.flatMap(tale).sort();
      expect(states).toEqual(['accepted', ...Array.from({ length: AT_ONCE - 1 }, () => 'duplicate')]);
    });

    it('counts what came of events', async () => {
      const count = async (state: string): Promise<number> => {
        const text = await (await fetch(`${door.house.url}/metrics`)).text();
        return Number(new RegExp(`^heatbook_events_total\\{state="${state}"\\} (\\d+)$`, 'm').exec(text)?.[1]);
      };
      const before = await Promise.all(['accepted', 'duplicate', 'rejected'].map(count));
      const good = event();
      await sendAll([good, good, event({ type: 'none' })]);
      const after = await Promise.all(['accepted', 'duplicate', 'rejected'].map(count));
      expect(after).toEqual(before.map((figure) => figure + 1));
    });

    if (namesType) {
      it('takes a stream, and refuses types that events do not come in', async () => {
        const lines = [event(), event()].map((one) => JSON.stringify(one)).join('\n');
        expect(tale(await door.send('DOOR-1', lines, 'application/x-ndjson'))).toEqual(['accepted', 'accepted']);
        const batch = JSON.stringify([event()]);
        expect(tale(await door.send('DOOR-1', batch, 'application/cloudevents+json'))).toEqual(['422 wrong-shape']);
        expect(tale(await door.send('DOOR-1', batch, 'application/cloudevents+avro'))).toEqual([
          '415 unknown-media-type',
        ]);
      });
    }
  });
}
