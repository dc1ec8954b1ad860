import { until } from '../../libs/postgres/embedded/processes.js';
import { OverloadBench, Told } from '../support/overload-bench.js';
import { events, received, removed, SHOP } from '../support/small-shop.js';

const PATIENCE_MS = 60_000;
const SUITE_MS = 240_000;
/** Each way, so that everything that is posted meets an insert under way. */
const SLOW_MS = 400;

let bench: OverloadBench;

afterEach(() => bench.close());

/** Units that come in, as a station says it that is not set up: nobody asks whether it is. */
function arrivals(station: string, from: number, count: number): { source: string; id: string }[] {
  return Array.from({ length: count }, (_, n) => {
    const [event] = events(`${station}-${String(from + n)}`, [received()]);
    return { ...(event as { id: string }), source: `/stations/${station}` };
  });
}

function counts({ body }: Told): { accepted: number; duplicates: number } {
  const { accepted, duplicates } = body as { accepted: number; duplicates: number };
  return { accepted, duplicates };
}

async function refusedAsTold(answer: Told, codes: readonly string[]): Promise<void> {
  const { type, detail } = answer.body as { type: string; detail: string };
  expect(codes.map((code) => `urn:heatbook:problem:${code}`)).toContain(type);
  expect(detail).toMatch(/Send it again, unchanged, after Retry-After seconds\.$/);
  expect(answer.retryAfter).toMatch(/^[1-9]\d?$/);
  return Promise.resolve();
}

it(
  'bears stations that send more than Postgres takes: its memory is bounded, and nothing is lost or half taken',
  async () => {
    const [STATIONS, POSTS, EVENTS, BYTES] = [8, 8, 20, 8_000_000];
    bench = await OverloadBench.open({ HEATBOOK_INTAKE_MIB: '32' });
    const keys = await Promise.all(Array.from({ length: STATIONS }, (_, n) => bench.stationKey(`S${String(n)}`)));
    const before = await bench.peakMib();
    bench.wire.slow(SLOW_MS);
    const posts = keys.flatMap((key, n) =>
      Array.from({ length: POSTS }, (_, post) => ({ key, batch: arrivals(`S${String(n)}`, post * EVENTS, EVENTS) })),
    );
    const send = async ({ key, batch }: (typeof posts)[number]): Promise<Told> =>
      bench.call('POST', '/v1/events', JSON.stringify(batch).padEnd(BYTES), key);
    const answers = await Promise.all(posts.map(send));
    const grown = (await bench.peakMib()) - before;
    bench.wire.mend();

    const refused = answers.filter(({ status }) => status !== 202);
    // How many depends on how fast the others are taken in meanwhile.
    expect(refused.length).toBeGreaterThan(0);
    for (const answer of refused) await refusedAsTold(answer, ['too-many-at-once', 'unavailable', 'station-full']);
    // All that was sent at once is 512 MB.
    expect(grown).toBeLessThan(300);

    // What was answered for is there, and of what was refused there is nothing.
    for (const [n, post] of posts.entries()) {
      const again = await bench.call('POST', '/v1/events', post.batch, post.key);
      const isThere = answers[n]?.status === 202;
      expect(counts(again)).toEqual(
        isThere ? { accepted: 0, duplicates: EVENTS } : { accepted: EVENTS, duplicates: 0 },
      );
    }
  },
  SUITE_MS,
);

it(
  'has a station that posts now and then wait for no more than a few batches of one that posts without end',
  async () => {
    const [BATCHES, EVENTS, SINGLES] = [10, 1_000, 5];
    bench = await OverloadBench.open({});
    bench.wire.slow(SLOW_MS);
    let isOver = false;
    let answered = 0;
    let sent = 0;
    const flood = async (): Promise<void> => {
      while (!isOver) {
        sent += 1;
        const { status } = await bench.call('POST', '/v1/events', arrivals('FLOOD', sent * EVENTS, EVENTS));
        if (status === 202) answered += 1;
      }
    };
    const flooding = Promise.all(Array.from({ length: BATCHES }, flood));
    expect(await until(() => answered > 0, PATIENCE_MS)).toBe(true);
    const passed: number[] = [];
    for (let n = 0; n < SINGLES; n += 1) {
      const before = answered;
      expect((await bench.call('POST', '/v1/events', arrivals('QUIET', n, 1))).status).toBe(202);
      passed.push(answered - before);
    }
    isOver = true;
    bench.wire.mend();
    await flooding;
    // Two are under way, and one may have its turn first; in order of arrival it would be all that wait, up to ten.
    expect(Math.max(...passed)).toBeLessThanOrEqual(4);
  },
  SUITE_MS,
);

it(
  'asks stations to come again while too much waits to be judged, goes on clearing work, and takes events once there is room',
  async () => {
    bench = await OverloadBench.open({ HEATBOOK_MOST_PENDING: '1000' });
    const [board] = events('BOARD', [received()]);
    expect(await bench.call('POST', '/v1/events', board)).toMatchObject({ status: 202 });
    let posted = 1;
    let refused: Told | undefined;
    const isRefused = async (): Promise<boolean> => {
      const answer = await bench.call('POST', '/v1/events', arrivals('S', posted, 200));
      if (answer.status === 202) posted += 200;
      else refused = answer;
      return refused !== undefined;
    };
    expect(await until(isRefused, PATIENCE_MS)).toBe(true);
    expect(refused?.status).toBe(429);
    if (refused !== undefined) await refusedAsTold(refused, ['backlog-full']);
    expect(await bench.client.pending()).toBe(posted);

    const { type, data } = removed();
    const steps = [{ type, ...data, heat: undefined, operator: undefined }];
    const wish = { assembly: SHOP.assembly, serial: 'BOARD', station: SHOP.bench, operator: 'ann', steps };
    expect(await bench.call('POST', '/v1/clearances', wish)).toMatchObject({ status: 201 });

    await bench.startWorker();
    const isTaken = async (): Promise<boolean> =>
      (await bench.call('POST', '/v1/events', arrivals('LATER', 0, 1))).status === 202;
    expect(await until(isTaken, PATIENCE_MS)).toBe(true);
    await bench.client.settled(PATIENCE_MS);
  },
  SUITE_MS,
);
