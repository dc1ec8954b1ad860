import { Bench, makeCrew, methodOf, pick } from './crew.js';
import { DayLog, MINUTE_MS } from './day-log.js';
import { MISTAKE_KINDS, MistakeKind, PlantedMistake } from './mistake.js';
import { MISTAKE_STORIES } from './mistake-stories.js';
import { Job, ordinaryWork } from './ordinary-work.js';
import { SeededRandom } from './seeded-random.js';
import { SetupItem } from './setup-item.js';
import { SimulatedAct } from './simulated-act.js';
import { SimulatedBoard } from './simulated-board.js';
import { simulatedSetup } from './simulated-setup.js';

export interface DayWish {
  /** Of all chance: the same wish gives the same day. */
  readonly seed: number;
  /** Begins every serial: letters and digits. A book takes another run under another one. */
  readonly run: string;
  /** When the shift begins, ms since 1970; whole seconds. */
  readonly startMs: number;
  /** Benches, each with a hot-gas station, a dressing place and an operator. */
  readonly stations: number;
  /** How long boards are taken up, hours. Clearances last a day at most, so this is at most 20. */
  readonly hours: number;
  /** At most so many boards; without, as many as the benches take up. */
  readonly boards?: number;
  /** Share of boards on which something goes wrong, 0 to 1, or one of each kind and then no more. */
  readonly mistakes: number | 'each';
  /** Share of hot-gas heats that are logged, 0 to 1. A trace costs some ms to draw. */
  readonly traced: number;
}

/** An invented day of a rework floor: what to enter before, what its stations do, and what went wrong. */
export interface SimulatedDay {
  readonly setup: readonly SetupItem[];
  /** In the order in which it is done. */
  readonly acts: readonly SimulatedAct[];
  readonly mistakes: readonly PlantedMistake[];
  /** `{assembly}/{serial}` of every board, in the order in which they are taken up. */
  readonly boards: readonly string[];
}

const HOUR_MS = 60 * MINUTE_MS;
const LONGEST_DAY_HOURS = 20;

/** Sites that ordinary work is done on. */
const SITES: Readonly<Record<string, readonly string[]>> = {
  'ZIB-PANEL-1': ['U1', 'U2', 'U3'],
  'ZIB-CORE-2': ['U1', 'U2', 'U3', 'U11'],
  'QRN-DRIVE-3': ['U1', 'U2', 'U3', 'U4'],
  'MRK-LINK-4': ['U1'],
};
/** Boards that a mistake is made on: those that are not being converted. */
const PLAIN = ['ZIB-PANEL-1', 'ZIB-CORE-2', 'QRN-DRIVE-3'] as const;
const LINK = 'MRK-LINK-4';

/** @throws RangeError for a day that is too long */
export function simulateDay(wish: DayWish): SimulatedDay {
  if (wish.hours > LONGEST_DAY_HOURS) throw new RangeError(`a day has at most ${String(LONGEST_DAY_HOURS)} hours`);
  const random = new SeededRandom(wish.seed);
  const benches = makeCrew(random, wish.stations, wish.startMs + MINUTE_MS);
  const log = new DayLog(random, wish.traced, wish.startMs);
  const mistakes: PlantedMistake[] = [];
  const boards: string[] = [];
  while (boards.length < (wish.boards ?? Infinity)) {
    const bench = benches.reduce((first, other) => (other.freeAtMs < first.freeAtMs ? other : first));
    if (bench.freeAtMs >= wish.startMs + wish.hours * HOUR_MS) break;
    const serial = `${wish.run}-${String(boards.length + 1).padStart(4, '0')}`;
    const kind = nextMistake(random, wish, bench, mistakes.length);
    const board = takeUp(log, bench, serial, kind);
    boards.push(board.key);
    const planted = work(log, board, kind, wish.startMs, (other) => boards.push(other.key));
    if (planted !== undefined) mistakes.push(planted);
  }
  return { setup: simulatedSetup(benches), acts: log.acts(), mistakes, boards };
}

/** What goes wrong on the board that a bench takes up, if anything. */
function nextMistake(random: SeededRandom, wish: DayWish, { operator }: Bench, place: number): MistakeKind | undefined {
  if (wish.mistakes === 'each') return MISTAKE_KINDS[place];
  if (random.next() >= wish.mistakes * operator.carelessness) return undefined;
  return random.next() < 0.5 ? operator.slip : pick(random, MISTAKE_KINDS);
}

function takeUp(log: DayLog, bench: Bench, serial: string, kind: MistakeKind | undefined): SimulatedBoard {
  const converted = kind === undefined && log.random.next() < 0.15;
  return new SimulatedBoard(log, bench, converted ? LINK : pick(log.random, PLAIN), serial);
}

function work(
  log: DayLog,
  board: SimulatedBoard,
  kind: MistakeKind | undefined,
  startMs: number,
  taken: (other: SimulatedBoard) => void,
): PlantedMistake | undefined {
  const { operator } = board.bench;
  const job: Job = {
    refdes: pick(log.random, SITES[board.assembly] ?? []),
    method: methodOf(log.random, operator),
    startMs,
  };
  if (kind === undefined) {
    ordinaryWork(board, job);
    return undefined;
  }
  const waiting = (): SimulatedBoard => {
    const other = new SimulatedBoard(log, board.bench, board.assembly, `${board.serial}w`);
    taken(other);
    return other;
  };
  return { kind, board: board.key, operator: operator.name, ...MISTAKE_STORIES[kind](board, job, waiting) };
}
