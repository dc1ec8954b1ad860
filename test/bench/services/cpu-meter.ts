import { Redis } from 'ioredis';
import { childrenOf, cpuTime, parentOf, portsOf } from './cpu-time.js';
import { HeatbookProcesses } from './heatbook-processes.js';

/** Who spends CPU time on events. Postgres is told apart by whom it works for. */
export const CPU_PARTS = [
  'api',
  'worker',
  'postgres-for-api',
  'postgres-for-worker',
  // Its log, its writers, its vacuum, and connections that have ended.
  'postgres-itself',
  'redis',
  // The bench: it makes, sends and waits for the events.
  'client',
] as const;
export type CpuPart = (typeof CPU_PARTS)[number];
/** CPU time since some moment, us. */
export type CpuSpent = Readonly<Record<CpuPart, number>>;

/** CPU time of the server's processes that run, by process id, and of all that have ever run; us. */
interface PostgresTimes {
  readonly living: ReadonlyMap<number, number>;
  readonly all: number;
}

/** Reads the CPU time of one product with its servers and the bench. NaN on systems without /proc. */
export class CpuMeter {
  private constructor(
    private readonly heatbook: HeatbookProcesses,
    private readonly postgresPid: number,
    private readonly redisPid: number,
  ) {}

  /** @param redisUrl of the server that the product was opened with */
  static async open(heatbook: HeatbookProcesses, redisUrl: string): Promise<CpuMeter> {
    const { rows } = await heatbook.looking.query<{ pid: number }>('SELECT pg_backend_pid() AS pid');
    const redis = new Redis(redisUrl);
    try {
      const told = await redis.info('server');
      const redisPid = Number(/^process_id:(\d+)/m.exec(told)?.[1] ?? NaN);
      return new CpuMeter(heatbook, await parentOf(rows[0]?.pid ?? NaN), redisPid);
    } finally {
      redis.disconnect();
    }
  }

  /** Starts to measure. @returns what tells the CPU time spent from then until it is called */
  async start(): Promise<() => Promise<CpuSpent>> {
    const { apis, workers } = this.heatbook.pids;
    const simple = async (): Promise<number[]> => Promise.all([sumOf(apis), sumOf(workers), sumOf([this.redisPid])]);
    const [before, postgres] = await Promise.all([simple(), this.postgresTimes()]);
    const client = process.cpuUsage();
    return async () => {
      const { user, system } = process.cpuUsage(client);
      const [after, postgresAfter] = await Promise.all([simple(), this.postgresTimes()]);
      const [api = NaN, worker = NaN, redis = NaN] = after.map((us, n) => us - (before[n] ?? NaN));
      const connections = await this.connections();
      const forWhom = { apis: 0, workers: 0, looking: 0 };
      for (const [pid, us] of postgresAfter.living) {
        const whose = connections.get(pid);
        if (whose !== undefined) forWhom[whose] += us - (postgres.living.get(pid) ?? 0);
      }
      const all = postgresAfter.all - postgres.all;
      return {
        ...{ api, worker, redis, client: user + system },
        'postgres-for-api': forWhom.apis,
        'postgres-for-worker': forWhom.workers,
        'postgres-itself': all - forWhom.apis - forWhom.workers - forWhom.looking,
      };
    };
  }

  private async postgresTimes(): Promise<PostgresTimes> {
    const { own, ended } = await cpuTime(this.postgresPid);
    const children = await childrenOf(this.postgresPid);
    const times = await Promise.all(children.map(cpuTime));
    const living = new Map<number, number>();
    // One that ended in between is in neither: its time shows at the next reading.
    for (const [n, pid] of children.entries()) living.set(pid, (times[n]?.own ?? 0) || 0);
    return { living, all: [...living.values()].reduce((sum, us) => sum + us, own + ended) };
  }

  /** Whom each connection of the server works for. */
  private async connections(): Promise<ReadonlyMap<number, 'apis' | 'workers' | 'looking'>> {
    const { apis, workers } = this.heatbook.pids;
    const [ofApis, ofWorkers] = await Promise.all([apis, workers].map((pids) => Promise.all(pids.map(portsOf))));
    const { rows } = await this.heatbook.looking.query<{ pid: number; port: number; own: boolean }>(
      `SELECT pid, client_port AS port, pid = pg_backend_pid() AS own FROM pg_stat_activity WHERE client_port > 0`,
    );
    const found = new Map<number, 'apis' | 'workers' | 'looking'>();
    for (const { pid, port, own } of rows) {
      if (own) found.set(pid, 'looking');
      else if (ofApis?.some((ports) => ports.has(port)) === true) found.set(pid, 'apis');
      else if (ofWorkers?.some((ports) => ports.has(port)) === true) found.set(pid, 'workers');
    }
    return found;
  }
}

async function sumOf(pids: readonly number[]): Promise<number> {
  const times = await Promise.all(pids.map(cpuTime));
  return times.reduce((sum, { own }) => sum + own, 0);
}
