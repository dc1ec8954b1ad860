import { spawn } from 'node:child_process';
import { appendFile, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { SpoolFull, SpoolLocked } from '../errors.js';
import { freshFolder, removeFolders } from '../spec-support/fresh-folder.js';
import { runnable } from '../../../test/support/test-environment.js';
import { Spool, SpoolOptions } from './spool.js';

const ROOMY = { maxBytes: 1_000_000, segmentBytes: 100_000 };
const ALL = { maxEvents: 1000, maxBytes: 1_000_000 };

const open: Spool[] = [];
async function openSpool(folder: string, options: Partial<SpoolOptions> = {}): Promise<Spool> {
  const spool = await Spool.open({ folder, ...ROOMY, ...options });
  open.push(spool);
  return spool;
}

/** What a process leaves behind that was killed. */
async function asIfKilled(spool: Spool): Promise<void> {
  open.splice(open.indexOf(spool), 1);
  for (const name of await readdir(spool.folder)) {
    if (name.startsWith('lock.')) await writeFile(join(spool.folder, name), '');
  }
}

afterEach(async () => {
  for (const spool of open.splice(0)) await spool.close();
  await removeFolders();
});

function numbered(count: number, from = 0): string[] {
  return Array.from({ length: count }, (_, n) => JSON.stringify({ n: from + n }));
}

async function takeAll(spool: Spool, wanted = ALL): Promise<string[]> {
  const taken: string[] = [];
  for (let batch = await spool.next(wanted); batch !== undefined; batch = await spool.next(wanted)) {
    taken.push(...batch.records.map(({ json }) => json));
    await spool.settle(batch);
  }
  return taken;
}

async function files(folder: string, ending = '.spool'): Promise<string[]> {
  return (await readdir(folder)).filter((name) => name.endsWith(ending)).sort();
}

it('gives back in order what was put in, through any number of files, and removes those that are done with', async () => {
  const folder = await freshFolder();
  const spool = await openSpool(folder, { segmentBytes: 200 });
  const events = numbered(50);
  for (const event of events) await spool.append([event]);
  expect((await files(folder)).length).toBeGreaterThan(5);
  expect(spool.pending).toBe(50);
  expect(await takeAll(spool, { maxEvents: 7, maxBytes: 1000 })).toEqual(events);
  expect(await files(folder)).toHaveLength(1);
  expect(spool).toMatchObject({ pending: 0, bytes: 0, settled: 50, oldestMs: undefined });
});

it('keeps order and everything where many post at once', async () => {
  const spool = await openSpool(await freshFolder(), { segmentBytes: 500 });
  const events = numbered(300);
  await Promise.all(events.map((event) => spool.append([event])));
  expect(await takeAll(spool)).toEqual(events);
});

it('bounds a batch by events and by bytes, and gives one that is longer by itself', async () => {
  const spool = await openSpool(await freshFolder());
  const long = JSON.stringify({ text: 'x'.repeat(150_000) });
  await spool.append([...numbered(5), long, ...numbered(1, 5)]);
  const sizes: number[] = [];
  for (
    let batch = await spool.next({ maxEvents: 3, maxBytes: 20 });
    batch;
    batch = await spool.next({ maxEvents: 3, maxBytes: 20 })
  ) {
    sizes.push(batch.records.length);
    await spool.settle(batch);
  }
  // {"n":0} and a byte between two are 8 bytes.
  expect(sizes).toEqual([2, 2, 1, 1, 1]);
});

it('goes on where a killed process was, without what its end tore', async () => {
  const folder = await freshFolder();
  const first = await openSpool(folder, { segmentBytes: 300 });
  await first.append(numbered(4));
  await first.append(numbered(30, 4));
  const batch = await first.next({ maxEvents: 6, maxBytes: 1000 });
  if (batch === undefined) throw new Error('nothing to settle');
  await first.settle(batch);
  await asIfKilled(first);
  const last = (await files(folder)).at(-1) ?? '';
  await appendFile(join(folder, last), '0badc0de 1764000000000 {"n":3');

  const second = await openSpool(folder);
  expect(second.pending).toBe(28);
  expect(second.damaged).toEqual([]);
  await second.append(numbered(2, 34));
  expect(await takeAll(second)).toEqual(numbered(30, 6));
});

it('sends again what it cannot know to be delivered: without a cursor, everything that is there', async () => {
  const folder = await freshFolder();
  const first = await openSpool(folder);
  await first.append(numbered(4));
  const batch = await first.next({ maxEvents: 2, maxBytes: 1000 });
  if (batch !== undefined) await first.settle(batch);
  await asIfKilled(first);
  await writeFile(join(folder, 'cursor'), '');
  expect(await takeAll(await openSpool(folder))).toEqual(numbered(4));
});

it('passes over a record that is damaged, keeps its bytes, and says where', async () => {
  const folder = await freshFolder();
  const first = await openSpool(folder);
  await first.append(numbered(3));
  await asIfKilled(first);
  const file = join(folder, (await files(folder))[0] ?? '');
  await writeFile(file, (await readFile(file, 'utf8')).replace('{"n":1}', '{"n":7}'));

  const second = await openSpool(folder);
  expect(second.pending).toBe(2);
  const [kept = ''] = second.damaged;
  expect(await readFile(kept, 'utf8')).toContain('{"n":7}');
  expect(await takeAll(second)).toEqual(['{"n":0}', '{"n":2}']);
  expect(second).toMatchObject({ pending: 0, bytes: 0 });
});

it('takes no more than it may, all of a call or none, and more again once something is delivered', async () => {
  const spool = await openSpool(await freshFolder(), { maxBytes: 500 });
  await spool.append(numbered(10));
  const refusal = spool.append(numbered(10, 10));
  await expect(refusal).rejects.toThrow(SpoolFull);
  await expect(refusal).rejects.toThrow(/may take no more than 500/);
  expect(spool.pending).toBe(10);
  expect(await takeAll(spool)).toEqual(numbered(10));
  await spool.append(numbered(10, 10));
  expect(await takeAll(spool)).toEqual(numbered(10, 10));
});

it('keeps nothing of a call where the disk takes only a part of it', async () => {
  const folder = await freshFolder();
  // The system lets no file of the child grow beyond 4 KiB, and cuts a write short there.
  const child = spawn('bash', [
    '-c',
    'ulimit -f 4; exec "$0" "$1" "$2"',
    process.execPath,
    runnable('libs/station-client/spec-support/fill-spool.ts'),
    folder,
  ]);
  let told = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => (told += text));
  child.stderr.setEncoding('utf8').on('data', (text: string) => (told += text));
  await new Promise((resolve) => child.once('close', resolve));
  const { kept, refusals } = JSON.parse(told) as { kept: string[]; refusals: string[] };
  expect(refusals).toEqual(['SpoolFull', 'SpoolFull']);
  expect(kept.length).toBeGreaterThan(3);
  expect(await takeAll(await openSpool(folder))).toEqual(kept);
});

it('is had by one process at a time', async () => {
  const folder = await freshFolder();
  const first = await openSpool(folder);
  await expect(Spool.open({ folder, ...ROOMY })).rejects.toThrow(SpoolLocked);
  await first.close();
  open.splice(0);
  await openSpool(folder);
});

it('is taken over from a process that is gone, by one of those who want it', async () => {
  const folder = await freshFolder();
  const child = spawn(process.execPath, [runnable('libs/station-client/spec-support/hold-spool.ts'), folder]);
  await new Promise((resolve) => child.stdout.once('data', resolve));
  await expect(Spool.open({ folder, ...ROOMY })).rejects.toThrow(new RegExp(`Process ${String(child.pid)} on `));
  child.kill('SIGKILL');
  await new Promise((resolve) => child.once('close', resolve));

  const tries = await Promise.allSettled(Array.from({ length: 8 }, () => openSpool(folder)));
  expect(tries.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
  const reasons = tries.flatMap((one) => (one.status === 'rejected' ? [String(one.reason)] : []));
  expect(reasons.filter((reason) => !reason.startsWith('SpoolLocked: Process'))).toEqual([]);
});

it('leaves nothing behind but its lock and its cursor when all is delivered', async () => {
  const folder = await freshFolder();
  const spool = await openSpool(folder);
  await spool.append(numbered(3));
  await takeAll(spool);
  await spool.close();
  expect((await readdir(folder)).sort()).toEqual(['cursor', 'lock.1']);
  open.splice(0);
});
