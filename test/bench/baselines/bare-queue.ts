import { Queue, Worker } from 'bullmq';
import { Redis } from 'ioredis';

const QUEUE = 'bare';
const CONCURRENCY = 64;
const ADDS_IN_FLIGHT = 32;

/**
 * Jobs a second that are added one by one, 32 in flight, and worked by a worker that does nothing, both in this process.
 * @throws what Redis answers
 */
export async function bareQueue(redisUrl: string, jobs: number): Promise<number> {
  const connect = (): Redis => new Redis(redisUrl, { maxRetriesPerRequest: null });
  const connections = [connect(), connect()] as const;
  const queue = new Queue<{ n: number }>(QUEUE, {
    connection: connections[0],
    defaultJobOptions: { removeOnComplete: true },
  });
  let done = 0;
  let tell: () => void = () => undefined;
  const finished = new Promise<void>((resolve) => (tell = resolve));
  const worker = new Worker(
    QUEUE,
    () => {
      done += 1;
      if (done === jobs) tell();
      return Promise.resolve();
    },
    { connection: connections[1], concurrency: CONCURRENCY },
  );
  try {
    await Promise.all([queue.waitUntilReady(), worker.waitUntilReady()]);
    let next = 0;
    const began = performance.now();
    await Promise.all(
      Array.from({ length: ADDS_IN_FLIGHT }, async () => {
        while (next < jobs) {
          next += 1;
          await queue.add('nothing', { n: next });
        }
      }),
    );
    await finished;
    return (jobs / (performance.now() - began)) * 1000;
  } finally {
    await worker.close();
    await queue.obliterate({ force: true });
    await queue.close();
    await Promise.all(connections.map((connection) => connection.quit()));
  }
}
