import { CheckedEvent } from '../../../libs/ledger/intake/check-event.js';
import { StationContact } from '../../../libs/ledger/ports/station-store.js';
import { problem } from '../spec-support/matchers.js';
import { enterSampleSetup, sampleEvent } from '../spec-support/sample-setup.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';
import { StationListener } from './station-listener.js';

const DAY_MS = 86_400_000;
const inDays = (days: number): string => new Date(Date.now() + days * DAY_MS).toISOString();

describe('reports of stations', () => {
  let api: SpecApi;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
    for (const [station, days] of [
      ['A-1', 6.9],
      ['B-1', -0.1],
      ['C-1', 7.1],
    ] as const)
      await api.ask('PUT', `/v1/stations/${station}`, { body: { kind: 'oven', calibrationDueAt: inDays(days) } });
    const parked = sampleEvent('heatbook.unit.received.v1', {}, { subject: 'NONE/S1' });
    await api.ask('POST', '/v1/events', { body: [parked] });
    await api.fold();
    const received = sampleEvent('heatbook.unit.received.v1', {}, { time: '2030-02-01T10:00:00.25+02:00' });
    await api.ask('POST', '/v1/events', { body: [received] });
    await api.ask('POST', '/v1/holds', { body: { station: 'HG-1', note: 'Smells of flux' } });
  });

  afterAll(() => api.close());

  it('list every station of the setup, page by page, with its calibration as notices see it', async () => {
    const first = (await api.ask('GET', '/v1/station-reports?limit=3')).body as { nextCursor: string };
    expect(first).toMatchObject({
      items: [
        { station: 'A-1', calibration: 'due-soon', lastHeardAt: null, lastEventTime: null, pending: 0 },
        { station: 'B-1', calibration: 'overdue', kind: 'oven' },
        { station: 'C-1', calibration: 'in-date' },
      ],
    });
    const { body } = await api.ask('GET', `/v1/station-reports?limit=3&cursor=${first.nextCursor}`);
    expect(body).toMatchObject({
      items: [{ station: 'HG-1', calibration: 'unknown', calibrationDueAt: null, pending: 1, parked: 1 }],
      nextCursor: null,
    });
  });

  it('tell of one station, and of none that the setup lacks', async () => {
    const { body } = await api.ask('GET', '/v1/station-reports/HG-1');
    expect(body).toMatchObject({
      station: 'HG-1',
      pending: 1,
      parked: 1,
      oldestPendingAt: expect.any(String) as unknown,
    });
    expect((await api.ask('GET', '/v1/station-reports/HG-2')).body).toEqual(problem('not-found', 404));
    expect((await api.ask('GET', '/v1/queue')).body).toMatchObject({ pending: 1, parked: 1 });
  });
});

describe('what is heard of stations', () => {
  const event = (station: string, time: string): CheckedEvent => ({
    ...{ source: `/stations/${station}`, id: '1', type: 'heatbook.unit.shipped.v1', subject: 'B/1' },
    body: { time },
  });
  const lines: string[] = [];
  const log = {
    info: () => undefined,
    warn: () => undefined,
    error: (message: string) => void lines.push(message),
  };
  const now = '2030-01-07T08:00:00.000Z';
  const clock = { now: () => now };

  it('is written in one go, the latest of each', async () => {
    const written: (readonly StationContact[])[] = [];
    const store = { heard: (contacts: readonly StationContact[]) => Promise.resolve(void written.push(contacts)) };
    const listener = new StationListener({ store, clock, log });
    listener.note([event('A', '2030-01-07T08:00:00+02:00'), event('B', '2030-01-01T00:00:00Z')]);
    listener.note([event('A', '2030-01-07T05:59:59Z')]);
    await listener.onApplicationShutdown();
    expect(written).toEqual([
      [
        { station: 'A', heardAt: now, eventTime: '2030-01-07T06:00:00.000000Z' },
        { station: 'B', heardAt: now, eventTime: '2030-01-01T00:00:00.000000Z' },
      ],
    ]);
  });

  it('is written by itself after a while', async () => {
    await new Promise<void>((resolve) => {
      const store = {
        heard: () => {
          resolve();
          return Promise.resolve();
        },
      };
      new StationListener({ store, clock, log, flushEveryMs: 1 }).note([event('A', now)]);
    });
  });

  it('waits while the database is away, and complains once', async () => {
    const written: string[] = [];
    let isAway = true;
    const store = {
      heard: (contacts: readonly StationContact[]) => {
        if (isAway) return Promise.reject(new Error('away'));
        return Promise.resolve(void written.push(...contacts.map(({ station }) => station)));
      },
    };
    const listener = new StationListener({ store, clock, log });
    listener.note([event('A', now)]);
    await listener.flush();
    await listener.flush();
    expect(lines).toEqual(['When stations were heard cannot be written.']);
    isAway = false;
    listener.note([event('B', now)]);
    await listener.onApplicationShutdown();
    expect(written.sort()).toEqual(['A', 'B']);
  });
});
