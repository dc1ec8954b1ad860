import type { IQueueBackend } from 'bullmq';

/** Puts jobs back whose worker has vanished. */
export interface StalledWatch {
  stop(): void;
}

/**
 * Looks at once and then every `everyMs` milliseconds for jobs whose lock has lapsed. BullMQ has such a watch of its own,
 * but that one keeps the process alive for five seconds when a worker is closed during an outage.
 *
 * @param report told of each look that failed
 */
export function watchStalledJobs(
  backend: Pick<IQueueBackend, 'moveStalledJobsToWait'>,
  everyMs: number,
  report: (error: unknown) => void,
): StalledWatch {
  let looking = false;
  const look = (): void => {
    // During an outage a look waits for the connection: others must not pile up behind it.
    if (looking) return;
    looking = true;
    backend
      .moveStalledJobsToWait()
      .catch(report)
      .finally(() => {
        looking = false;
      });
  };
  look();
  const timer = setInterval(look, everyMs);
  return {
    stop: () => {
      clearInterval(timer);
    },
  };
}
