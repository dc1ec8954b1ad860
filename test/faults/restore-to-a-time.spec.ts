import { randomBytes } from 'node:crypto';
import { chmod, copyFile, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { StationCloudEvent } from '../../libs/simulator/station-cloud-event.js';
import { stopLeftoverServer } from '../../libs/postgres/embedded/leftover-server.js';
import { until } from '../../libs/postgres/embedded/processes.js';
import { runningServerUrl } from '../../libs/postgres/embedded/running-server.js';
import { archiveTo, makeArchive, restoreTo, takeBaseBackup } from '../support/base-backup.js';
import { demoFacts, enterDemoSetup } from '../support/process-bench.js';
import { BookClient } from '../support/process-client.js';
import { FamilyMember, ProcessFamily } from '../support/process-family.js';
import { addressOf } from '../support/process-run.js';

const START_MS = 60_000;
const STOP_MS = 20_000;
const SETTLE_MS = 30_000;
const UNIT = 'ZIB-PANEL-1/0101';
const KEY = randomBytes(32).toString('hex');

/** What is done, when, in lines: `npm run rehearse-restore` shows them. */
const began = performance.now();
function tell(what: string): void {
  if (process.env['TEST_TELL'] === undefined) return;
  process.stdout.write(`${((performance.now() - began) / 1000).toFixed(1).padStart(6)} s  ${what}\n`);
}

let family: ProcessFamily;
let folder: string;

beforeEach(async () => {
  family = new ProcessFamily();
  folder = await mkdtemp(join(tmpdir(), 'heatbook-restore-'));
  // Postgres may run as somebody else, and finds the archive by its path.
  await chmod(folder, 0o711);
});

afterEach(async () => {
  await family.endAll();
  for (const data of ['data', 'restored']) await stopLeftoverServer(clusterOf(data), () => undefined);
  await rm(folder, { recursive: true, force: true });
});

function clusterOf(data: string): string {
  return join(folder, data, 'postgres', 'cluster');
}

async function startUp(data: string): Promise<{ readonly run: FamilyMember; readonly client: BookClient }> {
  const env = { HEATBOOK_DATA: join(folder, data), PORT: '0', HEATBOOK_DEMO: '0', HEATBOOK_ADMIN_KEY: KEY };
  const run = family.start('apps/cli/main.ts', env, ['run']);
  await run.printed('Ctrl-C stops it', START_MS);
  return { run, client: new BookClient(addressOf(run), KEY) };
}

async function stop(run: FamilyMember): Promise<void> {
  process.kill(run.pid, 'SIGTERM');
  expect(await run.endsWithin(STOP_MS)).toBe(0);
}

/** Says something on the command line. @returns the exit code and what it printed */
async function heatbook(data: string, ...args: string[]): Promise<{ readonly code: unknown; readonly said: string }> {
  const member = family.start('apps/cli/main.ts', { HEATBOOK_DATA: join(folder, data) }, args);
  const code = await member.endsWithin(START_MS);
  const said = `${member.stdout()}${member.stderr()}`;
  tell(`heatbook ${args.join(' ')}: exit code ${String(code)}`);
  return { code, said };
}

async function ask<T>(data: string, statement: string): Promise<T[]> {
  const url = await runningServerUrl(join(folder, data, 'postgres'));
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return (await client.query(statement)).rows as T[];
  } finally {
    await client.end();
  }
}

async function post(client: BookClient, events: readonly StationCloudEvent[]): Promise<void> {
  for (let at = 0; at < events.length; at += 50) {
    const { status } = await client.post(events.slice(at, at + 50));
    expect(status).toBe(202);
  }
}

const idOf = ({ source, id }: { source: string; id: string }): string => `${source} ${id}`;

async function acceptedIn(data: string): Promise<string[]> {
  const rows = await ask<{ source: string; id: string }>(data, 'SELECT source, event_id AS id FROM intake_event');
  return rows.map(idOf).sort();
}

/** The checkpoint that the key signed last, from when the log had at least so many entries. */
async function signedCheckpoint(client: BookClient, entries: number): Promise<string> {
  let note = '';
  const there = await until(async () => {
    const answer = await fetch(`${client.url}/v1/log/checkpoint`);
    note = await answer.text();
    return answer.status === 200 && Number(note.split('\n')[1]) >= entries;
  }, SETTLE_MS);
  if (!there) throw new Error(`no checkpoint of ${String(entries)} entries came`);
  return note;
}

async function entriesIn(data: string): Promise<number> {
  const [row] = await ask<{ entries: string }>(data, 'SELECT count(*) AS entries FROM ledger_entry');
  return Number(row?.entries);
}

async function exportAudit(client: BookClient, file: string, since = ''): Promise<string> {
  const answer = await fetch(`${client.url}/v1/units/${UNIT}/audit?format=json${since}`, {
    headers: { authorization: `Bearer ${KEY}` },
  });
  expect(answer.status).toBe(200);
  const path = join(folder, file);
  await writeFile(path, await answer.text());
  return path;
}

it('is put back to a time: all that was acknowledged before it is there and nothing after, and the log is begun anew on purpose', async () => {
  const facts = demoFacts();
  const [first, second, third] = [facts.slice(0, 300), facts.slice(300, 500), facts.slice(500)];
  const archive = join(folder, 'archive');

  await stop((await startUp('data')).run);
  await makeArchive(archive, clusterOf('data'));
  await archiveTo(archive, clusterOf('data'));
  const { run, client } = await startUp('data');
  const url = await runningServerUrl(join(folder, 'data', 'postgres'));
  if (url === undefined) throw new Error('no Postgres runs');
  await enterDemoSetup(url);
  tell('a book runs and archives its log of writes');

  await post(client, first);
  await client.settled(SETTLE_MS);
  await takeBaseBackup(url, clusterOf('data'), join(folder, 'backup'));
  tell(`base backup taken after ${String(first.length)} events`);

  await post(client, second);
  await client.settled(SETTLE_MS);
  const keptBefore = join(folder, 'before.checkpoint');
  await writeFile(keptBefore, await signedCheckpoint(client, await entriesIn('data')));
  const [row] = await ask<{ now: string }>('data', 'SELECT clock_timestamp()::text AS now');
  const time = row?.now ?? '';
  const acknowledged = [...first, ...second].map(idOf).sort();
  tell(`${String(acknowledged.length)} events acknowledged by ${time}`);

  await post(client, third);
  await client.settled(SETTLE_MS);
  const keptAfter = join(folder, 'after.checkpoint');
  await writeFile(keptAfter, await signedCheckpoint(client, await entriesIn('data')));
  const [wal] = await ask<{ file: string }>('data', 'SELECT pg_walfile_name(pg_switch_wal()) AS file');
  const archived = async (): Promise<boolean> => (await readdir(archive)).includes(wal?.file ?? '');
  expect(await until(archived, SETTLE_MS)).toBe(true);
  expect(await run.end('SIGKILL')).toBe('SIGKILL');
  await stopLeftoverServer(clusterOf('data'), () => undefined);
  tell(`${String(third.length)} events more, then everything was killed`);

  await mkdir(join(folder, 'restored', 'postgres'), { recursive: true, mode: 0o700 });
  await restoreTo(time, join(folder, 'backup'), archive, clusterOf('restored'));
  await copyFile(join(folder, 'data', 'postgres', 'password'), join(folder, 'restored', 'postgres', 'password'));
  // The key, and what it signed last: from where they are kept, not from the backup of the database.
  for (const name of await readdir(join(folder, 'data'))) {
    if (/^signing-key\.pem$|^signed-.*\.checkpoint$/.test(name)) {
      await copyFile(join(folder, 'data', name), join(folder, 'restored', name));
    }
  }
  const restored = await startUp('restored');
  expect(await acceptedIn('restored')).toEqual(acknowledged);
  tell(`restored: ${String(acknowledged.length)} events, none of those after`);

  expect(await heatbook('restored', 'recount')).toMatchObject({
    code: 0,
    said: expect.stringContaining('Nothing differs.') as string,
  });
  const refused = await until(async () => !(await restored.client.isReady()), SETTLE_MS);
  expect(refused).toBe(true);
  tell('/health/ready answers 503: the log was put back and is not signed');
  await stop(restored.run);

  const newKey = join(folder, 'new.pem');
  expect(await heatbook('restored', 'signing-key', newKey)).toMatchObject({ code: 0 });
  const rotated = await heatbook(
    'restored',
    'rotate-key',
    '--key',
    newKey,
    '--note',
    'Restored after the disk failed.',
  );
  expect(rotated).toMatchObject({ code: 0, said: expect.stringContaining('The log was put back') as string });

  const again = await startUp('restored');
  await post(again.client, third);
  await post(again.client, second);
  await again.client.settled(SETTLE_MS);
  await signedCheckpoint(again.client, await entriesIn('restored'));
  expect(await until(() => again.client.isReady(), SETTLE_MS)).toBe(true);
  tell('stations have posted again; the log is signed by the new key');

  const size = (await readFile(keptBefore, 'utf8')).split('\n')[1] ?? '';
  const audit = await exportAudit(again.client, 'audit.json', `&since=${size}`);
  expect(await heatbook('restored', 'verify', audit)).toMatchObject({ code: 0 });
  expect(await heatbook('restored', 'verify', audit, '--checkpoint', keptBefore)).toMatchObject({ code: 0 });
  expect(await heatbook('restored', 'verify', audit, '--checkpoint', keptAfter)).toMatchObject({ code: 1 });
  expect(await heatbook('restored', 'recount')).toMatchObject({ code: 0 });
  expect(await acceptedIn('restored')).toEqual(facts.map(idOf).sort());
  await stop(again.run);
}, 180_000);
