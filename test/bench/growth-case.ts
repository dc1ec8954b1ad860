import { BenchCase, BenchSize, Measure, Note } from './bench-case.js';
import { logKept } from './load/log-kept.js';
import { postBoards } from './load/post-boards.js';
import { EVENTS_A_BOARD } from './load/rework-line.js';
import { openServers } from './services/bench-servers.js';
import { bookSize, bytesByGroup } from './services/book-size.js';
import { CpuMeter, CpuSpent } from './services/cpu-meter.js';
import { HeatbookProcesses } from './services/heatbook-processes.js';

/** Of a step: what is timed of it, once the rest of it has been folded. */
const TIMED_SHARE = 1 / 2;
const MOST_TIMED = 20_000;

/** One book that grows through the product: how fast the last events of each step are, what they cost, what the book takes. */
export async function growthCase({ quick }: BenchSize): Promise<BenchCase> {
  const steps = quick ? [2_000, 6_000] : [10_000, 30_000, 100_000, 300_000];
  const servers = await openServers();
  const heatbook = await HeatbookProcesses.open(servers.redisUrl, { apis: 1, workers: 1 });
  const meter = await CpuMeter.open(heatbook, servers.redisUrl);
  const notes: Note[] = [];
  let told = 0;
  const tell = async (events: number): Promise<number> => {
    const boards = Math.round(events / EVENTS_A_BOARD);
    const postedPerSecond = await postBoards(heatbook.target('batch'), `GROW${String(told)}`, boards);
    told += boards * EVENTS_A_BOARD;
    const sentMs = ((boards * EVENTS_A_BOARD) / postedPerSecond) * 1000;
    const tookMs = sentMs + (await heatbook.applied());
    await logKept(heatbook);
    return ((boards * EVENTS_A_BOARD) / tookMs) * 1000;
  };
  // New processes are slow at first, which is not for their book being small.
  await tell(Math.min(...steps) / 2);
  const measures = steps.map((events): Measure => {
    const named = (what: string): string => `growth: ${what} at ${String(events)} events`;
    return {
      name: named('applied'),
      unit: 'events/s',
      take: async () => {
        const timed = Math.min(MOST_TIMED, (events - told) * TIMED_SHARE);
        await tell(events - told - timed);
        const spent = await meter.start();
        const before = told;
        const applied = await tell(timed);
        const cpu = await spent();
        const { tables } = await bookSize(heatbook.looking);
        notes.push(
          ...cpuNotes(cpu, told - before).map((note) => ({ ...note, name: named(note.name) })),
          ...[...bytesByGroup(tables)].map(([group, bytes]) => ({
            name: named(`${group}, size`),
            unit: 'bytes',
            value: bytes,
          })),
        );
        return applied;
      },
    };
  });
  return {
    title: 'growth',
    what: `one book that grows to ${steps.map(String).join(', ')} events, in batches of 100; the last of each step, at most ${String(MOST_TIMED)}, are timed`,
    measures,
    ratios: [],
    // A book grows once.
    rounds: 1,
    warmUps: 0,
    notes: () => notes,
    close: async () => {
      await heatbook.close();
      await servers.close();
    },
  };
}

function cpuNotes(cpu: CpuSpent, events: number): Note[] {
  const postgres = cpu['postgres-for-api'] + cpu['postgres-for-worker'] + cpu['postgres-itself'];
  const parts = Object.entries({ api: cpu.api, worker: cpu.worker, Postgres: postgres });
  return parts.map(([part, us]) => ({ name: `CPU of ${part} an event`, unit: 'us', value: us / events }));
}
