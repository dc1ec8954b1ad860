import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { serveApi } from '../../apps/api/serve-api.js';
import { HeardMessage, HeardStream, listen } from '../support/heard-stream.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SignedInPerson } from '../support/signed-in-person.js';
import { enterShop, events, received, removed, SHOP } from '../support/small-shop.js';
import { ALDER, BIRCH, enterTwoCustomers } from '../support/two-customers.js';

let house: RunningHouse;
let quality: SignedInPerson;
/** Of somebody who signs out before the first test. */
let signedOut: HeardStream;
const open: HeardStream[] = [];

beforeAll(async () => {
  house = await runningHouse();
  await enterShop(house);
  await enterTwoCustomers(house);
  quality = await house.person('q-1', ['quality']);
  const leaver = await house.person('q-2', ['quality']);
  signedOut = await listen(house.url, leaver.headers);
  await leaver.call('DELETE', '/v1/session');
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

/** What has come with an id: the rest of a commit that was cut short comes again. */
function complete(heard: readonly HeardMessage[]): readonly HeardMessage[] {
  return heard.slice(0, heard.findLastIndex(({ id }) => id !== null) + 1).filter(({ event }) => event !== 'hello');
}

const nameOf = ({ event, data }: HeardMessage): string =>
  event === 'entry' ? `${String(data['stream'])} ${String(data['seq'])}` : `${event} ${String(data['id'])}`;

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

  it('goes on from where a listener was: what many connections heard in a burst is what one did', async () => {
    const whole = await follow();
    const parts = [await follow()];
    const serials = Array.from({ length: 40 }, (_, n) => `B-${String(n)}`);
    const posting = Promise.all(
      serials.map((serial) => house.post(events(serial, [received(), removed(), removed()]))),
    );
    const state = { isPosting: true };
    const posted = posting.finally(() => (state.isPosting = false));
    let lastId = '';
    while (state.isPosting) {
      const part = parts.at(-1) ?? whole;
      await Promise.race([part.hears(({ event }) => event !== 'hello'), posted]);
      part.close();
      lastId = part.lastId() ?? lastId;
      parts.push(await follow({ ...quality.headers, 'last-event-id': lastId }));
    }
    await posted;
    await house.post(events('B-last', [received()]));
    const last = parts.at(-1) ?? whole;
    await Promise.all([whole, last].map((stream) => stream.hears(isEntry('B-last', 1))));
    const apart = parts.flatMap((part) => complete(part.heard));
    expect(apart.map(nameOf)).toEqual(complete(whole.heard).map(nameOf));
    for (const serial of serials) expect(sequences(apart, serial)).toEqual([1, 2, 3]);
    expect(parts.length).toBeGreaterThan(2);
    expect(parts.slice(1).flatMap(({ heard }) => heard.map(({ event }) => event))).not.toContain('hello');
  }, 60_000);

  it('tells what its description says', async () => {
    const stream = await follow();
    await house.post(events('D-1', [received()]));
    await quality.call('POST', '/v1/holds', { assembly: ALDER.assembly, serial: 'D-1', note: 'look' });
    const step = { type: 'heatbook.site.heated.v1', refdes: 'U7', purpose: 'touch-up' };
    const wish = { assembly: ALDER.assembly, serial: 'D-2', operator: 'ann', station: SHOP.bench, steps: [step] };
    expect((await house.call('POST', '/v1/clearances', wish)).status).toBe(201);
    await stream.hears(({ event }) => event === 'hold');
    await stream.hears(({ event, data }) => event === 'clearance' && data['serial'] === 'D-2');
    const ajv = new Ajv2020({ strict: false });
    addFormats.default(ajv);
    ajv.addSchema((await house.call('GET', '/openapi.json')).body, 'openapi');
    const check = ajv.getSchema('openapi#/components/schemas/StreamMessage');
    for (const { id, ...message } of stream.heard) {
      expect([message, check?.({ ...message, ...(id !== null && { id }) })]).toEqual([message, true]);
    }
  });

  it('tells in every process what another has done, and lets a process stop at once', async () => {
    const other = await serveApi(house.house, { host: '127.0.0.1', port: 0, adminKey: undefined });
    const stream = await listen(other.url, quality.headers);
    await stream.hears(({ event }) => event === 'hello');
    await house.post(events('P-1', [received()]));
    await stream.hears(isEntry('P-1', 1));
    await other.close();
    await stream.ended;
    // The connection was let go too: nothing answers there any more.
    await expect(listen(other.url, quality.headers)).rejects.toThrow('fetch failed');
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
    await signedOut.hears(({ event }) => event === 'hello');
    await signedOut.ended;
  }, 40_000);

  it('is for six at once of one caller', async () => {
    const person = await house.person('q-3', ['quality']);
    // Who asks for the head alone does not stay.
    expect((await fetch(`${house.url}/v1/stream`, { method: 'HEAD', headers: person.headers })).status).toBe(200);
    const streams = await Promise.all(Array.from({ length: 6 }, () => follow(person.headers)));
    expect(streams.map(({ status }) => status)).toEqual([200, 200, 200, 200, 200, 200]);
    const seventh = await follow(person.headers);
    expect([seventh.status, seventh.headers.get('retry-after')]).toEqual([429, '30']);
  });
});
