import { type CarrierBench, eventually, gate, type Run, RunRecorder, type StoreUnderTest } from './carrier-bench.js';

/** For tests that wait for a lock to lapse or for connections to come back. */
const SLOW_TEST_MS = 20_000;

/** The part of the carrier's contract that is about workers: sharing, stopping, losing one, and outages. */
export function describeJobWorker(bench: CarrierBench, store: () => StoreUnderTest): void {
  describeSharing(bench, store);
  describeStopping(bench, store);
  describeOutage(bench, store);
}

function describeSharing(bench: CarrierBench, store: () => StoreUnderTest): void {
  it('refuses to start unless every job has exactly one handler', async () => {
    const { startWorker } = await bench.open(store().freshTarget());
    const { handlers } = new RunRecorder();
    const { 'sweep-intake': sweep, ...incomplete } = handlers;
    // @ts-expect-error a handler is missing: the compiler says so first
    await expect(startWorker(incomplete, { concurrency: 1 })).rejects.toThrow("job 'sweep-intake' has no handler");
    const excessive = { ...handlers, 'fold-everything': sweep };
    await expect(startWorker(excessive, { concurrency: 1 })).rejects.toThrow("handler 'fold-everything' has no job");
  });

  it('shares the jobs between two workers, each job run once', async () => {
    const target = store().freshTarget();
    const [one, two] = await Promise.all([bench.open(target), bench.open(target)]);
    const bothBusy = gate();
    const busy = new Set<number>();
    const busyRecorder = (worker: number): RunRecorder =>
      new RunRecorder(async () => {
        busy.add(worker);
        if (busy.size === 2) bothBusy.open();
        await bothBusy.opened;
      });
    const recorders = [busyRecorder(1), busyRecorder(2)] as const;
    const shards = Array.from({ length: 40 }, (_, shard) => shard);
    await one.queue.addMany(
      shards.map((shard) => ({ name: 'fold-shard', payload: { shard }, options: { dedupeKey: String(shard) } })),
    );
    const done = (): number[] => recorders.flatMap((recorder) => recorder.shards);
    const allDone = Promise.race(recorders.map((recorder) => recorder.until(() => done().length >= shards.length)));
    await one.startWorker(recorders[0].handlers, { concurrency: 2 });
    await two.startWorker(recorders[1].handlers, { concurrency: 2 });
    await allDone;
    expect(done().sort((a, b) => a - b)).toEqual(shards);
    expect(busy.size).toBe(2);
  });

  it(
    'gives the job of a worker that vanished to another',
    async () => {
      const target = store().freshTarget();
      const [lost, rescuer] = await Promise.all([bench.open(target), bench.open(target)]);
      const never = new RunRecorder(() => new Promise<void>(() => undefined));
      const victim = await lost.startWorker(never.handlers, { concurrency: 1 });
      await lost.queue.add('fold-shard', { shard: 3 }, { dedupeKey: '3' });
      await never.until(() => never.runs.length === 1);
      expect(await victim.close(0)).toBe('timed-out');

      const recorder = new RunRecorder();
      await rescuer.startWorker(recorder.handlers, { concurrency: 1 });
      await recorder.until(() => recorder.runs.length === 1);
      expect(recorder.runs).toMatchObject([{ shard: 3, context: { attempt: 2 } }]);
    },
    SLOW_TEST_MS,
  );
}

function describeStopping(bench: CarrierBench, store: () => StoreUnderTest): void {
  it('lets running jobs end when it closes, and takes no more', async () => {
    const { queue, startWorker } = await bench.open(store().freshTarget());
    const hold = gate();
    const recorder = new RunRecorder(() => hold.opened);
    const worker = await startWorker(recorder.handlers, { concurrency: 1 });
    await queue.add('fold-shard', { shard: 1 });
    await recorder.until(() => recorder.runs.length === 1);
    const closed = worker.close(10_000);
    await queue.add('fold-shard', { shard: 2 });
    hold.open();
    expect(await closed).toBe('drained');
    expect(recorder.shards).toEqual([1]);
    expect(recorder.runs[0]?.context.signal.aborted).toBe(false);

    const next = new RunRecorder();
    await startWorker(next.handlers, { concurrency: 1 });
    await next.until(() => next.runs.length === 1);
    expect(next.shards).toEqual([2]);
  });

  it('closes an idle worker at once', async () => {
    const { startWorker } = await bench.open(store().freshTarget());
    const worker = await startWorker(new RunRecorder().handlers, { concurrency: 4 });
    expect(await timed(() => worker.close(10_000))).toMatchObject({ value: 'drained', quick: true });
  });

  it('aborts a job that outlasts the time box, and does not wait for one that ignores it', async () => {
    const { queue, startWorker } = await bench.open(store().freshTarget());
    const recorder = new RunRecorder(() => new Promise<void>(() => undefined));
    const worker = await startWorker(recorder.handlers, { concurrency: 1 });
    await queue.add('fold-shard', { shard: 1 });
    await recorder.until(() => recorder.runs.length === 1);
    expect(await timed(() => worker.close(200))).toMatchObject({ value: 'timed-out', quick: true });
    expect(recorder.runs[0]?.context.signal.aborted).toBe(true);
  });

  it('gives an aborted job back for the next worker', async () => {
    const { queue, startWorker } = await bench.open(store().freshTarget());
    const obedient = new RunRecorder(whenAborted);
    const worker = await startWorker(obedient.handlers, { concurrency: 1 });
    await queue.add('fold-shard', { shard: 1 }, { dedupeKey: '1' });
    await obedient.until(() => obedient.runs.length === 1);
    expect(await worker.close(50)).toBe('timed-out');
    const recorder = new RunRecorder();
    await startWorker(recorder.handlers, { concurrency: 1 });
    await recorder.until(() => recorder.runs.length === 1);
    expect(recorder.runs).toMatchObject([{ shard: 1, context: { attempt: 2 } }]);
  });
}

function describeOutage(bench: CarrierBench, store: () => StoreUnderTest): void {
  it(
    'fails an add quickly while the store is away, and carries on when it is back',
    async () => {
      const { queue, startWorker } = await bench.open(store().freshTarget());
      const recorder = new RunRecorder();
      await startWorker(recorder.handlers, { concurrency: 2 });
      await queue.add('fold-shard', { shard: 1 });
      await recorder.until(() => recorder.shards.includes(1));
      await queue.every('sweep-intake', {}, 200);
      await recorder.untilSwept();

      await store().goAway();
      const request = { name: 'fold-shard', payload: { shard: 2 } } as const;
      expect(await timed(() => rejection(queue.add('fold-shard', { shard: 2 })))).toMatchObject({ quick: true });
      expect(await timed(() => rejection(queue.addMany([request])))).toMatchObject({ quick: true });
      expect(await timed(() => rejection(queue.waiting().then(() => undefined)))).toMatchObject({ quick: true });
      expect(bench.logged.length).toBeGreaterThan(0);
      await store().comeBack();

      await eventually(() => queue.add('fold-shard', { shard: 4 }));
      await recorder.until(() => recorder.shards.includes(4));
      const sweeps = (): number => recorder.runs.filter(({ name }) => name === 'sweep-intake').length;
      const sweepsBefore = sweeps();
      await recorder.until(() => sweeps() > sweepsBefore + 2);
    },
    SLOW_TEST_MS,
  );

  it(
    'closes in its time box while the store is away',
    async () => {
      const carrier = await bench.open(store().freshTarget());
      const worker = await carrier.startWorker(new RunRecorder().handlers, { concurrency: 1 });
      await store().goAway();
      try {
        expect(await timed(() => worker.close(300))).toMatchObject({ quick: true });
        expect(await timed(() => carrier.close())).toMatchObject({ quick: true });
      } finally {
        await store().comeBack();
      }
    },
    SLOW_TEST_MS,
  );
}

function whenAborted({ context: { signal } }: Run): Promise<void> {
  return new Promise((_resolve, reject) => {
    signal.addEventListener('abort', () => {
      reject(new Error('aborted'));
    });
  });
}

/** `quick`: settled within two seconds, time box included. */
async function timed<T>(work: () => Promise<T>): Promise<{ value: T; quick: boolean }> {
  const startedAtMs = performance.now();
  const value = await work();
  return { value, quick: performance.now() - startedAtMs < 2_000 };
}

async function rejection(work: Promise<void>): Promise<Error> {
  try {
    await work;
  } catch (error) {
    if (error instanceof Error) return error;
  }
  throw new Error('expected a rejection');
}
