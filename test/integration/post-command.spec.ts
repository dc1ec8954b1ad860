import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdir, mkdtemp, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { enterSampleSetup, sampleEvent, stationKey } from '../../apps/api/spec-support/sample-setup.js';
import { SpecApi, startApi } from '../../apps/api/spec-support/start-api.js';
import { EndedCommand, runHeatbook } from '../support/run-heatbook.js';
import { runnable } from '../support/test-environment.js';

const TRACE = 'Time (s);Joint\n0;24,1\n60;98,4\n120;151,0\n180;229,3\n240;140,2\n';

let folder: string;
let api: SpecApi;
let key: string;

beforeEach(async () => {
  [folder, api] = [await mkdtemp(join(tmpdir(), 'heatbook-post-spec-')), await startApi()];
  await enterSampleSetup(api);
  key = await stationKey(api, 'HG-1');
});

afterEach(async () => {
  await api.close();
  await rm(folder, { recursive: true, force: true });
});

function post(args: readonly string[], { input = '', url = api.url, as = key } = {}): Promise<EndedCommand> {
  return runHeatbook(['post', ...args], { url, key: as, cwd: folder, input });
}

function cleaning(data: object = { refdes: 'U1', agent: 'solvent' }): Record<string, unknown> {
  return sampleEvent('heatbook.site.cleaned.v1', data);
}

function linesOf(...events: object[]): string {
  return events.map((event) => `${JSON.stringify(event)}\n`).join('');
}

async function entryCount(): Promise<number> {
  await api.fold();
  const { body } = await api.ask('GET', '/v1/units/BRD-1/S1/ledger');
  return typeof body === 'object' && body !== null && 'items' in body && Array.isArray(body.items)
    ? body.items.length
    : 0;
}

it('posts a file and standard input, once each, however often', async () => {
  const [first, second] = [cleaning(), cleaning()];
  await writeFile(join(folder, 'shift.json'), JSON.stringify([first, second]));
  expect(await post(['shift.json'])).toMatchObject({ code: 0, stdout: '2 accepted\n' });
  const piped = await post(['-'], { input: linesOf(second, cleaning()) });
  expect(piped).toMatchObject({ code: 0, stdout: '1 accepted, 1 in the book already\n' });
  expect(await entryCount()).toBe(3);
});

it('says of each event that is not in the book where it stands and why, and posts the others', async () => {
  const known = cleaning();
  const other = { ...known, data: { refdes: 'U2', agent: 'solvent' } };
  const { code, stdout, stderr } = await post(['-', '--json'], {
    input: linesOf(known, cleaning({ refdes: 'U1' }), other),
  });
  expect(code).toBe(3);
  expect(JSON.parse(stdout)).toMatchObject({
    accepted: 1,
    rejected: [
      { where: 'line 2', problem: { status: 422 } },
      { where: 'line 3', id: known['id'], problem: { status: 409 } },
    ],
  });
  expect(stderr).toMatch(/^line 2 \(id e-\d+\): 422 \/data\/agent: /m);
  expect(await entryCount()).toBe(1);
});

it('keeps in a spool what is not answered for, and posts it the next time', async () => {
  const away = 'http://127.0.0.1:1';
  const spooled = await post(['-', '--spool', 'spool', '--timeout', '1'], { input: linesOf(cleaning()), url: away });
  expect(spooled.code).toBe(1);
  expect(spooled.stderr).toContain('One event was not answered for.');
  const later = await post(['-', '--spool', 'spool'], { input: linesOf(cleaning()) });
  expect(later).toMatchObject({ code: 0, stdout: '2 accepted\n' });
});

it('says that the key is refused, at once', async () => {
  const { code, stderr } = await post(['-'], { input: linesOf(cleaning()), as: 'hbk_not-a-key-of-this-house' });
  expect([code, stderr]).toEqual([1, expect.stringContaining('refuses the key (401)')]);
});

it('takes the files of a folder, traces first, and puts each away by what became of it', async () => {
  const watched = join(folder, 'in');
  await mkdir(watched);
  await writeFile(join(watched, 'a.ndjson'), linesOf(cleaning()));
  await writeFile(join(watched, 'b.json'), JSON.stringify(cleaning({ refdes: 'U1' })));
  await writeFile(join(watched, 'run-1.csv'), TRACE);
  await writeFile(join(watched, 'run 2.csv'), TRACE);
  await writeFile(join(watched, 'notes.txt'), 'left alone');
  const { code, stderr } = await post(['--watch', 'in', '--once']);
  expect(code).toBe(3);
  expect(stderr.indexOf('run-1.csv: trace kept, 5 rows, channels Joint')).toBeLessThan(
    stderr.indexOf('a.ndjson: 1 accepted'),
  );
  expect((await readdir(watched)).sort()).toEqual(['.heatbook-spool', 'done', 'failed', 'notes.txt']);
  expect((await readdir(join(watched, 'done'))).sort()).toEqual(['a.ndjson', 'run-1.csv']);
  expect((await readdir(join(watched, 'failed'))).sort()).toEqual([
    'b.json',
    'b.json.problem.txt',
    'run 2.csv',
    'run 2.csv.problem.txt',
  ]);
  expect(await readFile(join(watched, 'failed', 'b.json.problem.txt'), 'utf8')).toContain(
    'The member "agent" is missing',
  );
  expect((await api.ask('GET', '/v1/traces/run-1')).status).toBe(200);
  // Mended and put back, it goes through; the name that is taken in done gets a number.
  await writeFile(join(watched, 'a.ndjson'), linesOf(cleaning()));
  expect((await post(['--watch', 'in', '--once', '--json'])).stdout).toBe(
    '{"file":"a.ndjson","state":"done","words":["a.ndjson: 1 accepted"]}\n',
  );
  expect(await readdir(join(watched, 'done'))).toContain('a.2.ndjson');
});

it('takes files as they come, until it is told to stop', async () => {
  const watched = join(folder, 'in');
  await mkdir(watched);
  const env = { PATH: process.env['PATH'], HEATBOOK_URL: api.url, HEATBOOK_KEY: key };
  const args = [runnable('apps/cli/main.ts'), 'post', '--watch', 'in', '--json'];
  const child = spawn(process.execPath, args, { env, cwd: folder });
  const ended = new Promise<unknown>((resolve) => child.once('close', resolve));
  await once(child.stderr, 'data');
  await writeFile(join(watched, 'a.json.part'), JSON.stringify(cleaning()));
  await rename(join(watched, 'a.json.part'), join(watched, 'a.json'));
  const [told] = (await once(child.stdout, 'data')) as [Buffer];
  expect(JSON.parse(told.toString())).toMatchObject({ file: 'a.json', state: 'done' });
  child.kill('SIGTERM');
  expect(await ended).toBe(0);
  expect(await readdir(join(watched, 'done'))).toEqual(['a.json']);
});

it('leaves a trace where it is while the service is away', async () => {
  const watched = join(folder, 'in');
  await mkdir(watched);
  await writeFile(join(watched, 'run-1.csv'), TRACE);
  const { code, stderr } = await post(['--watch', 'in', '--once'], { url: 'http://127.0.0.1:1' });
  expect([code, stderr]).toEqual([1, expect.stringContaining('run-1.csv waits: http://127.0.0.1:1 cannot be reached')]);
  expect(await readdir(watched)).toContain('run-1.csv');
});

it('says what it needs', async () => {
  expect(await post([])).toMatchObject({ code: 2, stderr: expect.stringContaining('Name a file of events') as string });
  expect(await post(['--watch', 'nowhere'])).toMatchObject({
    code: 2,
    stderr: expect.stringContaining('is not there') as string,
  });
});
