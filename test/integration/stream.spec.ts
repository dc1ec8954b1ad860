import { HeardMessage, HeardStream, listen } from '../support/heard-stream.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SignedInPerson } from '../support/signed-in-person.js';
import { enterShop, events, received, removed } from '../support/small-shop.js';
import { ALDER, BIRCH, enterTwoCustomers } from '../support/two-customers.js';

let house: RunningHouse;
let quality: SignedInPerson;
const open: HeardStream[] = [];

beforeAll(async () => {
  house = await runningHouse();
  await enterShop(house);
  await enterTwoCustomers(house);
  quality = await house.person('q-1', ['quality']);
}, 60_000);

afterEach(() => {
  for (const stream of open.splice(0)) stream.close();
});

afterAll(() => house.close());

async function follow(headers: Readonly<Record<string, string>> = quality.headers): Promise<HeardStream> {
  const stream = await listen(house.url, headers);
  open.push(stream);
  return stream;
}

const isEntry =
  (serial: string, seq: number) =>
  ({ event, data }: HeardMessage): boolean =>
    event === 'entry' && data['stream'] === `${ALDER.assembly}/${serial}` && data['seq'] === seq;

const sequences = (heard: readonly HeardMessage[], serial: string): unknown[] =>
  heard.flatMap(({ event, data }) =>
    event === 'entry' && data['stream'] === `${ALDER.assembly}/${serial}` ? [data['seq']] : [],
  );

describe('GET /v1/stream', () => {
  it('begins now, and tells of entries and holds as they come', async () => {
    const stream = await follow();
    expect(stream.status).toBe(200);
    expect(stream.headers.get('content-type')).toBe('text/event-stream; charset=utf-8');
    expect(stream.headers.get('cache-control')).toBe('no-store');
    await stream.hears(({ event }) => event === 'hello');
    expect(stream.heard).toHaveLength(1);
    await house.post(events('S-1', [received()]));
    const { data } = await stream.hears(isEntry('S-1', 1));
    expect(data).toMatchObject({
      subject: { kind: 'unit', assembly: ALDER.assembly, serial: 'S-1' },
      type: 'heatbook.unit.received.v1',
    });
    const raised = await quality.call('POST', '/v1/holds', { assembly: ALDER.assembly, serial: 'S-1', note: 'look' });
    const hold = await stream.hears((message) => message.event === 'hold' && message.data['id'] === raised.body['id']);
    expect(hold.data).toMatchObject({ state: 'open', stage: 'new', reason: 'by-hand', customer: ALDER.customer });
  });

  it('tells of what stands in no ledger too: who has a hold, and what is said of it', async () => {
    const { body } = await quality.call('POST', '/v1/holds', {
      assembly: ALDER.assembly,
      serial: ALDER.serial,
      note: 'n',
    });
    const stream = await follow();
    await quality.call('PUT', `/v1/holds/${String(body['id'])}/assignment`, { assignee: 'q-1', dueAt: null });
    await stream.hears(
      ({ event, data }) => event === 'hold' && data['id'] === body['id'] && data['stage'] === 'assigned',
    );
  });

  it('goes on from where a listener was: what two connections heard is what one did', async () => {
    const [whole, first] = [await follow(), await follow()];
    await house.post(events('S-2', [received(), removed()]));
    await first.hears(isEntry('S-2', 1));
    const lastId = first.lastId() ?? '';
    first.close();
    await house.post(events('S-2', [received(), removed(), removed({ note: 'again' })]).slice(2));
    const second = await follow({ ...quality.headers, 'last-event-id': lastId });
    const last = 3;
    await Promise.all([whole, second].map((stream) => stream.hears(isEntry('S-2', last))));
    const twice = [...sequences(first.heard, 'S-2'), ...sequences(second.heard, 'S-2')];
    expect(sequences(whole.heard, 'S-2')).toEqual([1, 2, 3]);
    expect(twice).toEqual([1, 2, 3]);
    expect(second.heard.map(({ event }) => event)).not.toContain('hello');
  });

  it('shows customers what is theirs, and lets their place go on over the rest', async () => {
    const customer = await house.person('c-1', ['customer'], BIRCH.customer);
    const [theirs, all] = [await follow(customer.headers), await follow()];
    const before = theirs.lastId();
    await house.post(events('S-3', [received()]));
    await all.hears(isEntry('S-3', 1));
    await house.call('POST', '/v1/holds', { assembly: BIRCH.assembly, serial: BIRCH.serial, note: 'theirs' });
    await theirs.hears(({ event }) => event === 'hold');
    expect(JSON.stringify(theirs.heard)).not.toContain(ALDER.assembly);
    expect(theirs.heard.map(({ event }) => event)).not.toContain('clearance');
    expect(theirs.lastId()).not.toBe(before);
  });

  it('tells who was away too long, or comes with a place from elsewhere, to ask anew', async () => {
    for (const id of [`1-1-${String(Date.now() - 51 * 60_000)}`, `999999999-1-${String(Date.now())}`]) {
      const stream = await follow({ ...quality.headers, 'last-event-id': id });
      await stream.hears(({ event }) => event === 'reset');
      expect(stream.heard).toHaveLength(1);
    }
    const odd = await follow({ ...quality.headers, 'last-event-id': '7' });
    expect(odd.status).toBe(400);
  });

  it('ends when the session has ended', async () => {
    const person = await house.person('q-2', ['quality']);
    const stream = await follow(person.headers);
    await stream.hears(({ event }) => event === 'hello');
    await person.call('DELETE', '/v1/session');
    await stream.ended;
  }, 40_000);

  it('is for six at once of one caller', async () => {
    const person = await house.person('q-3', ['quality']);
    const streams = await Promise.all(Array.from({ length: 6 }, () => follow(person.headers)));
    expect(streams.map(({ status }) => status)).toEqual([200, 200, 200, 200, 200, 200]);
    const seventh = await follow(person.headers);
    expect([seventh.status, seventh.headers.get('retry-after')]).toEqual([429, '30']);
  });
});
