import { CarrierBench, gate, QUICK_SETTINGS, RunRecorder, type StoreUnderTest } from './carrier-bench.js';
import { describeJobWorker } from './job-worker.contract.js';

/** What every carrier of wake-ups must do, whatever it is built on. */
export function describeJobQueue(name: string, makeStore: () => Promise<StoreUnderTest>): void {
  describe(`job queue on ${name}`, () => {
    let store: StoreUnderTest;
    const bench = new CarrierBench();

    beforeAll(async () => {
      store = await makeStore();
    });
    afterEach(() => bench.closeAll());
    afterAll(() => store.dispose());

    describeDelivery(bench, () => store);
    describeMerging(bench, () => store);
    describeRetries(bench, () => store);
    describeJobWorker(bench, () => store);
  });
}

function describeDelivery(bench: CarrierBench, store: () => StoreUnderTest): void {
  it('hands each job with its payload to the handler of its name', async () => {
    const { queue, startWorker } = await bench.open(store().freshTarget());
    const recorder = new RunRecorder();
    await queue.add('fold-shard', { shard: 7 });
    await queue.addMany([
      { name: 'fold-shard', payload: { shard: 8 } },
      { name: 'fold-shard', payload: { shard: 9 }, options: { dedupeKey: '9' } },
    ]);
    await queue.addMany([]);
    await queue.add('sweep-intake', {});
    await (await startWorker(recorder.handlers, { concurrency: 1 })).ready();
    await recorder.untilSwept();
    expect(recorder.shards).toEqual([7, 8, 9]);
    expect(recorder.runs.map(({ context }) => context.attempt)).toEqual([1, 1, 1, 1]);
    expect(recorder.runs.every(({ context }) => !context.signal.aborted)).toBe(true);
  });

  it('says how many jobs wait', async () => {
    const { queue, startWorker } = await bench.open(store().freshTarget());
    expect(await queue.waiting()).toBe(0);
    await queue.addMany([1, 2, 3].map((shard) => ({ name: 'fold-shard', payload: { shard } })));
    await queue.add('fold-shard', { shard: 4 }, { delayMs: 60_000 });
    await queue.add('sweep-intake', {});
    expect(await queue.waiting()).toBe(4);
    const recorder = new RunRecorder();
    await startWorker(recorder.handlers, { concurrency: 1 });
    await recorder.untilSwept();
    expect(await queue.waiting()).toBe(0);
  });

  it('holds a delayed job back', async () => {
    const { queue, startWorker } = await bench.open(store().freshTarget());
    const recorder = new RunRecorder();
    await startWorker(recorder.handlers, { concurrency: 1 });
    const addedAtMs = performance.now();
    await queue.add('fold-shard', { shard: 1 }, { delayMs: 300 });
    await recorder.until(() => recorder.runs.length === 1);
    const waitedMs = (recorder.runs[0]?.startedAtMs ?? 0) - addedAtMs;
    expect(waitedMs).toBeGreaterThanOrEqual(290);
    expect(waitedMs).toBeLessThan(1_500);
  });

  it('repeats a job at its interval, however many processes ask for it', async () => {
    const target = store().freshTarget();
    const [one, two] = await Promise.all([bench.open(target), bench.open(target)]);
    await Promise.all([one.queue.every('sweep-intake', {}, 200), two.queue.every('sweep-intake', {}, 200)]);
    const recorder = new RunRecorder();
    await one.startWorker(recorder.handlers, { concurrency: 4 });
    await recorder.until(() => recorder.runs.length === 6);
    const [first, , , , , sixth] = recorder.runs.map(({ startedAtMs }) => startedAtMs);
    // Five intervals, of which the first is cut to the grid of the schedule and a busy machine may start a run late; two
    // schedules side by side would need half of that.
    expect((sixth ?? 0) - (first ?? 0)).toBeGreaterThanOrEqual(3 * 200);
  });
}

function describeMerging(bench: CarrierBench, store: () => StoreUnderTest): void {
  it('merges jobs of one key while the first is waiting', async () => {
    const { queue, startWorker } = await bench.open(store().freshTarget());
    const recorder = new RunRecorder();
    for (let time = 0; time < 5; time += 1) await queue.add('fold-shard', { shard: 1 }, { dedupeKey: 'same' });
    await queue.add('fold-shard', { shard: 2 }, { dedupeKey: 'other' });
    await queue.add('sweep-intake', {}, { dedupeKey: 'same' });
    await startWorker(recorder.handlers, { concurrency: 1 });
    await recorder.untilSwept();
    expect(recorder.shards).toEqual([1, 2]);
  });

  it('runs a job once more when it is added again while running, with the last payload', async () => {
    const { queue, startWorker } = await bench.open(store().freshTarget());
    const hold = gate();
    const recorder = new RunRecorder(() => hold.opened);
    await startWorker(recorder.handlers, { concurrency: 1 });
    await queue.add('fold-shard', { shard: 1 }, { dedupeKey: 'same' });
    await recorder.until(() => recorder.runs.length === 1);
    for (const shard of [2, 3, 4]) await queue.add('fold-shard', { shard }, { dedupeKey: 'same' });
    hold.open();
    await recorder.until(() => recorder.runs.length === 2);
    await queue.add('sweep-intake', {});
    await recorder.untilSwept();
    expect(recorder.shards).toEqual([1, 4]);
  });

  it('loses no wake-up and never works one key twice at once under a storm of them', async () => {
    const target = store().freshTarget();
    const [one, two] = await Promise.all([bench.open(target), bench.open(target)]);
    let running = 0;
    let mostRunning = 0;
    const recorder = new RunRecorder(async () => {
      running += 1;
      mostRunning = Math.max(mostRunning, running);
      await new Promise((resolve) => setImmediate(resolve));
      running -= 1;
    });
    await one.startWorker(recorder.handlers, { concurrency: 2 });
    await two.startWorker(recorder.handlers, { concurrency: 2 });
    for (let round = 0; round < 30; round += 1) {
      const burst = [one, two, one, two].map(({ queue }) => queue.add('fold-shard', { shard: 1 }, { dedupeKey: '1' }));
      const lastAskedAtMs = performance.now();
      await Promise.all(burst);
      await recorder.until(() => recorder.runs.some(({ startedAtMs }) => startedAtMs > lastAskedAtMs));
    }
    expect(mostRunning).toBe(1);
  });
}

function describeRetries(bench: CarrierBench, store: () => StoreUnderTest): void {
  it('tries a failing job again, gives up after the last attempt, and takes its key anew', async () => {
    const { queue, startWorker } = await bench.open(store().freshTarget());
    let broken = true;
    const recorder = new RunRecorder(({ name }) =>
      broken && name === 'fold-shard' ? Promise.reject(new Error('shard is broken')) : Promise.resolve(),
    );
    await startWorker(recorder.handlers, { concurrency: 1 });
    await queue.add('fold-shard', { shard: 1 }, { dedupeKey: '1' });
    await recorder.until(() => recorder.runs.length === QUICK_SETTINGS.attempts);
    // A fourth attempt would come before this.
    await queue.add('sweep-intake', {}, { delayMs: 20 * QUICK_SETTINGS.backoffMs });
    await recorder.untilSwept();
    expect(recorder.runs.map(({ context }) => context.attempt)).toEqual([1, 2, 3, 1]);
    expect(bench.logged).toContainEqual("job 'fold-shard': shard is broken");

    broken = false;
    await queue.add('fold-shard', { shard: 2 }, { dedupeKey: '1' });
    await recorder.until(() => recorder.shards.includes(2));
  });

  it('keeps a wake-up that comes during an attempt that fails', async () => {
    const { queue, startWorker } = await bench.open(store().freshTarget());
    const hold = gate();
    const recorder = new RunRecorder(async ({ context, shard }) => {
      await hold.opened;
      if (shard === 1 && context.attempt === 1) throw new Error('only the first time');
    });
    await startWorker(recorder.handlers, { concurrency: 1 });
    await queue.add('fold-shard', { shard: 1 }, { dedupeKey: 'same' });
    await recorder.until(() => recorder.runs.length === 1);
    await queue.add('fold-shard', { shard: 2 }, { dedupeKey: 'same' });
    hold.open();
    await recorder.until(() => recorder.shards.includes(2));
  });
}
