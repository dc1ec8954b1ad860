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

/** Jobs that one worker has in hand at once: with 8, 16 and 32 it did 355, 355 and 385 single posts a second and 660, 575 and 575 in batches. */
export const WORKER_CONCURRENCY = 8;
/** Connections of a worker and of an api. */
export const WORKER_POOL = 8;
export const API_POOL = 16;

/** @throws Error where a variable is missing or is no role */
export function readSettings(environment: NodeJS.ProcessEnv): Settings {
  const given = (name: string): string => {
    const value = environment[name];
    if (value === undefined || value === '') throw new Error(`${name} is not set`);
    return value;
  };
  const role = given('ROLE');
  if (role !== 'api' && role !== 'worker' && role !== 'both') throw new Error(`ROLE is api, worker or both`);
  return {
    role,
    databaseUrl: given('DATABASE_URL'),
    redisUrl: given('REDIS_URL'),
    port: role === 'worker' ? 0 : Number(given('PORT')),
    key: role === 'worker' ? '' : given('BENCH_KEY'),
  };
}
