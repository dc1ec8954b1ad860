/** What a process of the baseline does: takes events, works them, or both. */
export type Role = 'api' | 'worker' | 'both';

export interface Settings {
  readonly role: Role;
  readonly databaseUrl: string;
  readonly redisUrl: string;
  readonly port: number;
  /** The key that stations show. */
  readonly key: string;
}

// Chosen for the best figure on two cores that api, worker, Postgres, Redis and client share, 3,200 events a try. Events a
// second until they were applied, single posts / batches of 100, tried one after the other with nothing else running:
//
// | jobs and connections | 4         | 8                    | 16        | 32        | 64        |
// | one worker           | 482 / 685 | 420 / 670, 475 / 661 | 458 / 654 | 475 / 627 | 400 / 527 |
//
// From 4 to 16 is the same within what the machine drifts by. In another run one worker of 4 did 392 / 597 and two 370 / 621;
// workers of 8 with apis of 4, 8, 32 and 16 connections 408 / 616, 428 / 601, 406 / 606 and 486 / 678. The cores are the bound.

/** Jobs that one worker has in hand at once, each in a transaction on a connection of its own. */
export const WORKER_CONCURRENCY = 8;
export const API_POOL = 16;

/** @throws Error where a variable is missing or is no role */
export function readSettings(environment: NodeJS.ProcessEnv): Settings {
  const given = (name: string): string => {
    const value = environment[name];
    if (value === undefined || value === '') throw new Error(`${name} is not set`);
    return value;
  };
  const role = given('ROLE');
  if (role !== 'api' && role !== 'worker' && role !== 'both') throw new Error('ROLE is api, worker or both');
  return {
    role,
    databaseUrl: given('DATABASE_URL'),
    redisUrl: given('REDIS_URL'),
    port: role === 'worker' ? 0 : Number(given('PORT')),
    key: role === 'worker' ? '' : given('BENCH_KEY'),
  };
}
