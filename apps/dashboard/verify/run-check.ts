import type { CheckAnswer, CheckJob } from './check-job.js';
import CheckWorker from './check-worker.js?worker&inline';

/**
 * Checks a file in a worker of its own.
 * @param stop ends the worker; the promise then stays open
 */
export function runCheck(job: CheckJob, stop: AbortSignal): Promise<CheckAnswer> {
  const worker = new CheckWorker();
  const end = (): void => {
    worker.terminate();
  };
  stop.addEventListener('abort', end, { once: true });
  return new Promise<CheckAnswer>((resolve) => {
    worker.addEventListener('message', ({ data }: MessageEvent<CheckAnswer>) => {
      resolve(data);
    });
    worker.addEventListener('error', ({ message }) => {
      const why = message === '' ? 'this browser starts no worker here' : message;
      resolve({ refusal: `The check could not run (${why}): take a current browser, or “heatbook verify”.` });
    });
    worker.postMessage(job);
  }).finally(() => {
    stop.removeEventListener('abort', end);
    end();
  });
}
