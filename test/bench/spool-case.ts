import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { freePort } from '../../libs/postgres/embedded/free-port.js';
import { openOutbox, type Outbox } from '../../libs/station-client/index.js';
import { BenchCase, BenchSize } from './bench-case.js';
import { EVENTS_A_BOARD, requestsOf, reworkLine } from './load/rework-line.js';
import { sendLanes } from './load/send-lanes.js';
import { openServers } from './services/bench-servers.js';
import { HeatbookProcesses } from './services/heatbook-processes.js';

/** Events that a station hands to its spool at a time. */
const AT_ONCE = 1_000;

/** What a station has spooled while Heatbook was away, until it is in the ledger, beside the same work posted in batches. */
export async function spoolCase({ quick }: BenchSize): Promise<BenchCase> {
  const boards = quick ? 640 : 10_000;
  const events = boards * EVENTS_A_BOARD;
  const servers = await openServers();
  const heatbook = await HeatbookProcesses.open(servers.redisUrl, { apis: 1, workers: 1 });
  const spool = await mkdtemp(join(tmpdir(), 'heatbook-bench-spool-'));
  let series = 0;
  let answeredPerSecond = NaN;
  const perSecond = (ms: number): number => (events / ms) * 1000;
  const named = (): string => {
    series += 1;
    return `Q${String(series)}`;
  };
  const open = (url: string): Promise<Outbox> => openOutbox({ url, spool, key: heatbook.key });
  /** Into the spool of a station that reaches nobody. */
  const keep = async (): Promise<number> => {
    const line = reworkLine(named(), boards, 1)
      .flat()
      .map((text) => JSON.parse(text) as object);
    const outbox = await open(`http://127.0.0.1:${String(await freePort())}`);
    const began = performance.now();
    for (let n = 0; n < line.length; n += AT_ONCE) await outbox.post(line.slice(n, n + AT_ONCE));
    const tookMs = performance.now() - began;
    await outbox.close();
    return tookMs;
  };
  const drain = async (): Promise<number> => {
    const began = performance.now();
    const outbox = await open(heatbook.urls[0] ?? '');
    await outbox.drain();
    const sentMs = performance.now() - began;
    const { accepted } = outbox.status();
    if (accepted !== events) throw new Error(`${String(accepted)} of ${String(events)} were accepted`);
    answeredPerSecond = perSecond(sentMs);
    await outbox.close();
    return sentMs + (await heatbook.applied());
  };
  return {
    title: 'spool',
    what: `${String(events)} events of one station, spooled during an outage, until they are in the ledger; and the same in batches over several connections`,
    measures: [
      {
        name: 'batch-applied',
        unit: 'events/s',
        take: async () => {
          const sentMs = await sendLanes(heatbook.target('batch'), requestsOf('batch', named(), boards));
          return perSecond(sentMs + (await heatbook.applied()));
        },
      },
      { name: 'spool-kept', unit: 'events/s', take: async () => perSecond(await keep()) },
      { name: 'spool-applied', unit: 'events/s', take: async () => perSecond(await drain()) },
      // Of the drain just before.
      { name: 'spool-answered', unit: 'events/s', take: () => Promise.resolve(answeredPerSecond) },
    ],
    ratios: [{ name: 'spool-applied/batch-applied', of: 'spool-applied', over: 'batch-applied', goal: { atLeast: 1 } }],
    rounds: quick ? 1 : 3,
    warmUps: quick ? 0 : 1,
    close: async () => {
      await heatbook.close();
      await servers.close();
      await rm(spool, { recursive: true, force: true });
    },
  };
}
