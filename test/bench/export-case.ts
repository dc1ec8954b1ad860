import { AuditFormatName } from '../../libs/evidence/audit-formats.js';
import { freePort } from '../../libs/postgres/embedded/free-port.js';
import { ProcessFamily } from '../support/process-family.js';
import { copyOut } from './baselines/copy-out.js';
import { BenchCase, BenchSize, Measure, Note } from './bench-case.js';
import { longUnit, LongUnit } from './load/long-unit.js';
import { readExport } from './load/read-export.js';
import { openServers } from './services/bench-servers.js';
import { grownDuring } from './services/grown-memory.js';
import { HeatbookProcesses } from './services/heatbook-processes.js';

/** Those that are written as they are read. A PDF is laid out, so it is neither compared with reading nor done at full length. */
const STREAMED: readonly AuditFormatName[] = ['json', 'csv', 'epcis'];
const START_MS = 60_000;
/**
 * Of the api whose memory is looked at. With more room the collector leaves lying what nobody holds, the longer the export
 * the more of it: 250 MB in CSV, where no more than some 30 MB are needed.
 */
const SMALL_HEAP = '--max-old-space-size=128 --max-semi-space-size=4';

/** Exports of one unit with a long history over HTTP, beside COPY of its bytes out of Postgres. */
export async function exportCase({ quick }: BenchSize): Promise<BenchCase> {
  const length = quick ? 5_000 : 100_000;
  const servers = await openServers();
  const heatbook = await HeatbookProcesses.open(servers.redisUrl, { apis: 1, workers: 1 });
  const [long, tenth, page] = [
    await longUnit(heatbook, 'LONG', length),
    await longUnit(heatbook, 'TENTH', length / 10),
    await longUnit(heatbook, 'PAGES', length / 20),
  ];
  await heatbook.stopWorkers();
  await heatbook.looking.query('VACUUM (ANALYZE) ledger_entry');
  const api = { url: heatbook.urls[0] ?? '', key: heatbook.key };
  const perSecond = (ms: number): number => (length / ms) * 1000;
  const exports = STREAMED.map((format): Measure => ({
    name: `export-${format}`,
    unit: 'entries/s',
    take: async () => perSecond(await readExport(api, long, format)),
  }));
  const notes = [
    ...(await memoryNotes(servers.redisUrl, heatbook, [tenth, long])),
    await pdfNote(api, page),
    { name: 'bytes of an entry', unit: 'bytes', value: await entryBytes(heatbook, long) },
  ];
  return {
    title: 'export',
    what: `a unit of ${String(length)} entries from Postgres over HTTP, read to the end and not kept`,
    measures: [
      {
        name: 'copy-to',
        unit: 'entries/s',
        take: async () => perSecond(await copyOut(heatbook.looking, long.key)),
      },
      ...exports,
    ],
    ratios: exports.map(({ name }) => ({
      ...{ name: `${name}/copy-to`, of: name, over: 'copy-to' },
      ...(name === 'export-json' && { goal: { atLeast: 0.3 } }),
    })),
    rounds: quick ? 1 : 3,
    warmUps: 1,
    notes: () => notes,
    close: async () => {
      await heatbook.close();
      await servers.close();
    },
  };
}

/**
 * What an export of each format adds to the memory of an api that has only just started and has a small heap. Memory that is
 * flat grows alike for all units, however many entries they have.
 */
async function memoryNotes(
  redisUrl: string,
  { databaseUrl, key }: HeatbookProcesses,
  units: readonly LongUnit[],
): Promise<Note[]> {
  const family = new ProcessFamily();
  const notes: Note[] = [];
  for (const format of STREAMED) {
    for (const unit of units) {
      const port = String(await freePort());
      const env = {
        DATABASE_URL: databaseUrl,
        REDIS_URL: redisUrl,
        HEATBOOK_ADMIN_KEY: key,
        PORT: port,
        NODE_OPTIONS: SMALL_HEAP,
      };
      const process = family.start('apps/api/main.ts', env);
      await process.printed('api is up', START_MS);
      const value = await grownDuring(process.pid, () =>
        readExport({ url: `http://127.0.0.1:${port}`, key }, unit, format),
      );
      await process.end('SIGTERM');
      const name = `${format} of ${String(unit.entries)} entries: growth of the api's resident memory in a small heap, at most`;
      if (!Number.isNaN(value)) notes.push({ name, unit: 'MB', value: value / 1e6 });
    }
  }
  return notes;
}

async function pdfNote(api: { url: string; key: string }, unit: LongUnit): Promise<Note> {
  const tookMs = await readExport(api, unit, 'pdf');
  return {
    name: `pdf of ${String(unit.entries)} entries, once`,
    unit: 'entries/s',
    value: (unit.entries / tookMs) * 1000,
  };
}

async function entryBytes({ looking }: HeatbookProcesses, { key }: LongUnit): Promise<number> {
  const { rows } = await looking.query<{ bytes: number }>(
    'SELECT avg(octet_length(bytes))::float AS bytes FROM ledger_entry WHERE subject = $1',
    [key],
  );
  return rows[0]?.bytes ?? NaN;
}
