import { forEachTimer } from '../ledger/ports/job-queue.js';
import type { JobContext, JobHandlers, JobMap, JobName } from '../ledger/ports/job-queue.js';

/** The names of the job map at run time; the compiler keeps the two equal. */
const JOB_NAMES: Readonly<Record<JobName, true>> = {
  'fold-shard': true,
  'run-containment': true,
  'make-archive': true,
  ...forEachTimer(() => true as const),
};

/** Thrown at start-up when jobs and handlers do not match one to one. */
class JobHandlersError extends Error {
  constructor(missing: readonly string[], unknown: readonly string[]) {
    const complaints = [
      ...missing.map((name) => `job '${name}' has no handler`),
      ...unknown.map((name) => `handler '${name}' has no job`),
    ];
    super(`${complaints.join('; ')}: every job needs exactly one handler`);
    this.name = 'JobHandlersError';
  }
}

/**
 * Checks that each job has a function to handle it and that no handler is left over. The types say so too, but not to a
 * worker that is composed at run time.
 *
 * @throws JobHandlersError naming what is missing or unknown
 */
export function assertEveryJobHandled(handlers: Readonly<Record<string, unknown>>): void {
  const missing = Object.keys(JOB_NAMES).filter((name) => typeof handlers[name] !== 'function');
  const unknown = Object.keys(handlers).filter((name) => !isJobName(name));
  if (missing.length + unknown.length > 0) throw new JobHandlersError(missing, unknown);
}

/** Whether this build knows a job of that name; another version of the product may have left one in the queue. */
export function isJobName(name: string): name is JobName {
  return Object.hasOwn(JOB_NAMES, name);
}

/** Runs the handler of one job. */
export async function handleJob<N extends JobName>(
  handlers: JobHandlers,
  name: N,
  payload: JobMap[N],
  context: JobContext,
): Promise<void> {
  await handlers[name](payload, context);
}
