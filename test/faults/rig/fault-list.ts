import { setTimeout as delay } from 'node:timers/promises';
import pg from 'pg';
import { upgradeUnderLoad } from './earlier-schema.js';
import { FaultWorld, Member } from './fault-world.js';
import { KILL_POINTS } from './kill-points.js';
import { acceptUnknownType, postUnplaceable } from './poison.js';

/** Something that befalls the service, from its beginning until it has been mended. */
export interface Fault {
  readonly name: string;
  /** About how long it lasts, s. */
  readonly seconds: number;
  /** Whether this machine lets it happen. */
  readonly isPossible?: (world: FaultWorld) => boolean;
  strike(world: FaultWorld, random: () => number): Promise<void>;
}

/** What runs services mostly grants them ten seconds before it kills them. */
const GRACE_MS = 10_000;
const SKEW_MS = 3 * 3_600_000;
const HANGUPS = 60;

function one<T>(of: readonly T[], random: () => number): T {
  const chosen = of[Math.floor(random() * of.length)];
  if (chosen === undefined) throw new Error('there is nothing to choose from');
  return chosen;
}

const members = (world: FaultWorld, role: 'api' | 'worker'): readonly Member[] =>
  role === 'api' ? world.apis : world.workers;

const killedAtRandom = (role: 'api' | 'worker'): Fault => ({
  name: `${role} killed at any moment`,
  seconds: 1,
  strike: async (world, random) => {
    await delay(random() * 300);
    world.kill(one(members(world, role), random));
  },
});

const killedAtPoints: readonly Fault[] = KILL_POINTS.map(({ name, role, ...point }) => ({
  name,
  seconds: 1,
  strike: async (world, random) => {
    await world.killAt(one(members(world, role), random), point);
  },
}));

const toldToStop = (role: 'api' | 'worker'): Fault => ({
  name: `${role} told to stop under load`,
  seconds: 2,
  strike: async (world, random) => {
    const ending = await one(members(world, role), random).process.stopsInGoodOrder(GRACE_MS);
    if (ending !== 0) throw new Error(`the ${role} ended with ${String(ending)}`);
  },
});

const redisAway = (seconds: number): Fault => ({
  name: `Redis stopped for ${String(seconds)} s`,
  seconds,
  strike: async ({ servers }) => {
    await servers.stopRedis();
    await delay(seconds * 1000);
    await servers.startRedis();
  },
});

const REDIS: readonly Fault[] = [
  ...[5, 15, 60].map(redisAway),
  {
    name: 'Redis killed',
    seconds: 1,
    strike: async (world) => {
      world.kills += 1;
      await world.servers.killRedis();
      await world.servers.startRedis();
    },
  },
  {
    name: 'Redis killed, its file cut short',
    seconds: 1,
    strike: async (world, random) => {
      world.kills += 1;
      await world.servers.killRedis();
      await world.servers.truncateRedisFile(random());
      await world.servers.startRedis();
    },
  },
  { name: 'Redis flushed', seconds: 1, strike: (world) => tellRedis(world, [['flushall']]) },
  {
    name: 'Redis out of memory',
    seconds: 5,
    strike: async (world) => {
      await tellRedis(world, [['config', 'set', 'maxmemory', '1mb']]);
      await delay(5_000);
      await tellRedis(world, [['config', 'set', 'maxmemory', '0']]);
    },
  },
];

const postgresEnded = (name: string, signal: 'SIGINT' | 'SIGQUIT' | 'SIGKILL', seconds: number): Fault => ({
  name,
  seconds,
  strike: async (world) => {
    if (signal === 'SIGKILL') world.kills += 1;
    await world.servers.endPostgres(signal);
    await delay((seconds - 1) * 1000);
    await world.servers.startPostgres();
  },
});

const POSTGRES: readonly Fault[] = [
  postgresEnded('Postgres stopped for 5 s', 'SIGINT', 6),
  postgresEnded('Postgres shut down at once', 'SIGQUIT', 1),
  postgresEnded('Postgres killed', 'SIGKILL', 1),
  {
    name: 'Postgres out of connections',
    seconds: 5,
    strike: async (world) => {
      const taken = await takeConnections(world);
      await Promise.all(world.members.map(({ process }) => cutForAMoment(process.wires.postgres)));
      await delay(4_000);
      await Promise.all(taken.map((client) => client.end().catch(() => undefined)));
    },
  },
  {
    name: 'Postgres out of disk',
    seconds: 5,
    isPossible: ({ servers }) => servers.hasDisk,
    strike: async ({ servers }) => {
      await servers.fillDisk();
      await delay(4_000);
      await servers.emptyDisk();
      // It ends where it cannot write its log ahead; whatever runs services starts it again.
      await servers.endPostgres('SIGQUIT');
      await servers.startPostgres();
    },
  },
  {
    name: 'Postgres slow: 50 ms each way',
    seconds: 5,
    strike: async (world) => {
      for (const { process } of world.members) process.wires.postgres.slow(50);
      await delay(5_000);
      for (const { process } of world.members) process.wires.postgres.mend();
    },
  },
];

type WireName = 'postgres' | 'redis';

const wireFault = (role: 'api' | 'worker', to: WireName, how: 'cut' | 'silence', seconds: number): Fault => ({
  name: `${role} and ${to === 'redis' ? 'Redis' : 'Postgres'}: wire ${how === 'cut' ? 'cut' : 'silent'} for ${String(seconds)} s`,
  seconds,
  strike: async (world, random) => {
    const wire = one(members(world, role), random).process.wires[to];
    wire[how]();
    await delay(seconds * 1000);
    wire.mend();
  },
});

const WIRES: readonly Fault[] = [
  ...(['api', 'worker'] as const).flatMap((role) =>
    (['postgres', 'redis'] as const).flatMap((to) => [
      wireFault(role, to, 'cut', 3),
      wireFault(role, to, 'silence', 8),
    ]),
  ),
  {
    name: 'stations cut off from an api for 3 s',
    seconds: 3,
    strike: async ({ apis }, random) => {
      const { front } = one(apis, random);
      front?.cut();
      await delay(3_000);
      front?.mend();
    },
  },
];

const CLOCKS: readonly Fault[] = [-SKEW_MS, SKEW_MS].map((skewMs) => ({
  name: `clock of a worker and an api ${String(Math.abs(skewMs) / 3_600_000)} h ${skewMs < 0 ? 'slow' : 'fast'}`,
  seconds: 4,
  strike: async (world, random) => {
    const wrong = [one(world.apis, random), one(world.workers, random)];
    for (const member of wrong) {
      member.process.skewClock(skewMs);
      world.kill(member);
    }
    await delay(4_000);
    for (const member of wrong) {
      member.process.skewClock(0);
      world.kill(member);
    }
  },
}));

/** What nobody mends: the book must get by with it. */
const POISON: readonly Fault[] = [
  { name: 'poison: events that cannot be placed', seconds: 1, strike: postUnplaceable },
  { name: 'poison: an event of an unknown type', seconds: 16, strike: acceptUnknownType },
];

const UPGRADES: readonly Fault[] = [
  { name: 'rolling upgrade from the schema before', seconds: 8, strike: upgradeUnderLoad },
];

/** Everything that befalls the service, in no order. */
export const FAULTS: readonly Fault[] = [
  ...(['api', 'worker'] as const).flatMap((role) => [killedAtRandom(role), toldToStop(role)]),
  ...killedAtPoints,
  ...REDIS,
  ...POSTGRES,
  ...WIRES,
  ...CLOCKS,
  ...POISON,
  ...UPGRADES,
];

async function tellRedis({ servers }: FaultWorld, commands: readonly (readonly string[])[]): Promise<void> {
  const { Redis } = await import('ioredis');
  const redis = new Redis(servers.redisPort, '127.0.0.1');
  try {
    for (const [command = '', ...args] of commands) await redis.call(command, ...args);
  } finally {
    redis.disconnect();
  }
}

/** As many connections as are to be had, so that nobody else gets one. */
async function takeConnections({ servers }: FaultWorld): Promise<pg.Client[]> {
  const taken: pg.Client[] = [];
  for (let refused = 0; taken.length < HANGUPS * 3 && refused < 3;) {
    const client = new pg.Client({ connectionString: servers.postgresUrl.href });
    client.on('error', () => undefined);
    await client.connect().then(
      () => taken.push(client),
      () => (refused += 1),
    );
  }
  return taken;
}

async function cutForAMoment(wire: { cut(): void; mend(): void }): Promise<void> {
  wire.cut();
  await delay(100);
  wire.mend();
}
