import { setTimeout as delay } from 'node:timers/promises';
import { until } from '../../../libs/postgres/embedded/processes.js';
import { mulberry32 } from '../../support/mulberry32.js';
import { Fault, FAULTS } from './fault-list.js';
import { FaultWorld } from './fault-world.js';
import { outcomeOf, ReadBack, readBack } from './read-back.js';
import { StationCrowd } from './station-crowd.js';

export interface FaultRun {
  readonly rounds: number;
  readonly seed: number;
  /** Boards of each round, of ten events each. */
  readonly boards: number;
  readonly faults?: readonly Fault[];
  /** Told of each round. */
  readonly log?: (line: string) => void;
}

interface Recovery {
  readonly median: number;
  readonly max: number;
}

interface Sum {
  readonly kills: number;
  readonly acknowledged: number;
  readonly lost: number;
  readonly doubled: number;
  /** From the end of a fault until an event that was posted after it stood in its ledger. */
  readonly recoverySeconds: Recovery;
}

export interface FaultReport extends Sum {
  readonly seed: number;
  readonly rounds: number;
  readonly byFault: readonly (Sum & { readonly fault: string; readonly rounds: number })[];
  /** Whatever was not as it should be, in words; at most some from each round. */
  readonly wrong: readonly string[];
  /** Faults that this machine does not let happen. */
  readonly leftOut: readonly string[];
}

interface Round extends ReadBack {
  readonly fault: string;
  readonly kills: number;
  readonly recoveredMs: number;
}

const LATEST_STRIKE_MS = 600;
const MORE_WORK_MS = 100;
const RECOVERED_WITHIN_MS = 120_000;
const POLL_MS = 25;

/** Has stations work while faults befall the service, one each round, and reads back what became of what was answered for. */
export async function runFaults(run: FaultRun): Promise<FaultReport> {
  const random = mulberry32(run.seed);
  const world = await FaultWorld.open();
  try {
    const wanted = run.faults ?? FAULTS;
    const possible = wanted.filter(({ isPossible }) => isPossible?.(world) ?? true);
    const usual = await workUndisturbed(world, random);
    const rounds: Round[] = [];
    let order: Fault[] = [];
    for (let n = 0; n < run.rounds; n += 1) {
      if (order.length === 0) order = shuffled(possible, random);
      const fault = order.pop();
      if (fault === undefined) throw new Error('there is no fault to strike');
      const round = await playRound(world, fault, { serials: serialsOf(run, n), random, usual });
      rounds.push(round);
      const seconds = (round.recoveredMs / 1000).toFixed(2);
      run.log?.(
        `${String(n + 1)} of ${String(run.rounds)}: ${fault.name}: ${String(round.acknowledged)} acknowledged, ${String(round.lost)} lost, ${String(round.doubled)} doubled, recovered in ${seconds} s${round.wrong.map((words) => `\n    ${words}`).join('')}`,
      );
    }
    const names = [...new Set(rounds.map(({ fault }) => fault))].sort();
    return {
      seed: run.seed,
      rounds: run.rounds,
      ...sumOf(rounds),
      byFault: names.map((name) => {
        const own = rounds.filter(({ fault }) => fault === name);
        return { fault: name, rounds: own.length, ...sumOf(own) };
      }),
      wrong: rounds.flatMap(({ fault, wrong }) => wrong.map((words) => `${fault}: ${words}`)),
      leftOut: wanted.filter((fault) => !possible.includes(fault)).map(({ name }) => name),
    };
  } finally {
    await world.close();
  }
}

function serialsOf({ boards }: FaultRun, round: number): string[] {
  return Array.from({ length: boards }, (_, n) => `R${String(round)}-${String(n)}`);
}

/** @returns what a board comes to that nothing befell */
async function workUndisturbed(world: FaultWorld, random: () => number): Promise<string> {
  const crowd = new StationCrowd(world.clients, random);
  await crowd.work(['CALM-1']);
  await world.reader.settled(RECOVERED_WITHIN_MS);
  const usual = await outcomeOf(world.reader, 'CALM-1');
  const { lost, doubled, wrong } = await readBack(world.reader, crowd.acknowledged, usual);
  if (lost + doubled + wrong.length > 0) throw new Error(`it goes wrong without any fault: ${wrong.join('; ')}`);
  return usual;
}

interface Scene {
  readonly serials: readonly string[];
  readonly random: () => number;
  readonly usual: string;
}

async function playRound(world: FaultWorld, fault: Fault, { serials, random, usual }: Scene): Promise<Round> {
  const crowd = new StationCrowd(world.clients, random);
  const before = world.kills;
  const wrong: string[] = [];
  let isOver = false;
  const working = crowd.work(serials).then(async () => {
    // Faults that last longer than the work, or wait for a certain step of it, find some going on at each api.
    for (let n = 0; !isOver; n += 1) {
      await crowd.work(world.apis.map((_api, lane) => `${serials[0] ?? ''}-MORE${String(n)}-${String(lane)}`));
      await delay(MORE_WORK_MS);
    }
  });
  await delay(random() * LATEST_STRIKE_MS);
  await fault.strike(world, random).catch((error: unknown) => {
    wrong.push(String(error));
  });
  isOver = true;
  const mended = performance.now();
  const recoveredMs = await recovery(world, `${serials[0] ?? ''}-PROBE`, random, mended);
  await working;
  if (!(await world.isReadyWithin(RECOVERED_WITHIN_MS))) wrong.push('an api does not become ready again');
  // Whatever the service says of itself: it is settled once all is there, and lost is what does not come.
  let found = await readBack(world.reader, crowd.acknowledged, usual);
  const isWhole = async (): Promise<boolean> => {
    if (found.lost > 0 || found.wrong.length > 0) found = await readBack(world.reader, crowd.acknowledged, usual);
    return found.lost === 0 && found.wrong.length === 0;
  };
  await until(isWhole, RECOVERED_WITHIN_MS);
  return {
    ...found,
    fault: fault.name,
    kills: world.kills - before,
    recoveredMs,
    wrong: [...wrong, ...crowd.complaints, ...found.wrong],
  };
}

/** Until an event that is posted from now on is in its ledger. @returns ms since `mended` */
async function recovery(world: FaultWorld, serial: string, random: () => number, mended: number): Promise<number> {
  const probe = new StationCrowd(world.clients, random);
  await probe.work([serial]);
  const [first] = probe.acknowledged.get(serial) ?? [];
  const [source = '', id = ''] = first?.ref.split(' ') ?? [];
  const path = `/v1/events?${new URLSearchParams({ source, id }).toString()}`;
  const isApplied = async (): Promise<boolean> => {
    const status = await world.reader.get(path).catch(() => undefined);
    return typeof status === 'object' && status !== null && 'state' in status && status.state === 'applied';
  };
  await until(isApplied, RECOVERED_WITHIN_MS);
  return performance.now() - mended - POLL_MS / 2;
}

function sumOf(rounds: readonly Round[]): Sum {
  const sum = (of: (round: Round) => number): number => rounds.reduce((total, round) => total + of(round), 0);
  const took = rounds.map(({ recoveredMs }) => recoveredMs / 1000).sort((a, b) => a - b);
  const at = (share: number): number => Number((took[Math.floor((took.length - 1) * share)] ?? NaN).toFixed(2));
  return {
    kills: sum(({ kills }) => kills),
    acknowledged: sum(({ acknowledged }) => acknowledged),
    lost: sum(({ lost }) => lost),
    doubled: sum(({ doubled }) => doubled),
    recoverySeconds: { median: at(0.5), max: at(1) },
  };
}

function shuffled<T>(items: readonly T[], random: () => number): T[] {
  return items
    .map((item) => ({ item, at: random() }))
    .sort((a, b) => a.at - b.at)
    .map(({ item }) => item);
}
