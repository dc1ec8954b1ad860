import { execFile } from 'node:child_process';
import { copyFile, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { runningHouse, RunningHouse } from '../support/running-house.js';

const exec = promisify(execFile);
const SOURCE = 'libs/station-client';
const TSC = 'node_modules/typescript/bin/tsc';
const BUILD_MS = 120_000;

let bench: string;
let house: RunningHouse;

/** The package as `npm run pack-station-client` makes it, in the `node_modules` of a bench that has nothing else. */
beforeAll(async () => {
  bench = await mkdtemp(join(tmpdir(), 'heatbook-bench-'));
  house = await runningHouse();
  const installed = join(bench, 'node_modules', '@heatbook', 'station-client');
  await exec(process.execPath, [TSC, '-p', join(SOURCE, 'tsconfig.package.json'), '--outDir', installed]);
  await copyFile(join(SOURCE, 'package.json'), join(installed, 'package.json'));
  await writeFile(join(bench, 'package.json'), '{"type":"module"}');
}, BUILD_MS);

afterAll(async () => {
  await house.close();
  await rm(bench, { recursive: true, force: true });
});

it('runs the first example of its README, and needs nothing but Node', async () => {
  await house.call('PUT', '/v1/stations/HOTGAS-1', { kind: 'hot-gas rework' });
  const { body } = await house.call('POST', '/v1/stations/HOTGAS-1/keys');
  const example = /```js\n(.*?)```/s.exec(await readFile(join(SOURCE, 'README.md'), 'utf8'))?.[1] ?? '';
  await writeFile(join(bench, 'example.js'), example);
  const env = { PATH: process.env['PATH'], HEATBOOK_URL: house.url, HEATBOOK_KEY: String(body['key']) };
  const { stdout, stderr } = await exec(process.execPath, ['example.js'], { cwd: bench, env });
  expect(stderr).toBe('');
  expect(stdout).toMatch(/pending: 0,[^}]*accepted: 1,[^}]*rejected: 0,[^}]*lastError: null/);
});

it(
  'tells TypeScript what may be said of each event',
  async () => {
    const program = [
      "import { type ClearanceAnswer, openStation } from '@heatbook/station-client';",
      "const station = await openStation({ station: 'S', url: 'http://h', key: 'k', spool: 's' });",
      "await station.tell('heatbook.site.cleaned.v1', 'A/1', { refdes: 'U1', agent: 'water' });",
      '// @ts-expect-error agent is missing',
      "await station.tell('heatbook.site.cleaned.v1', 'A/1', { refdes: 'U1' });",
      '// @ts-expect-error there is no such type',
      "await station.tell('heatbook.site.polished.v1', 'A/1', { refdes: 'U1' });",
      'const idOf = (answer: ClearanceAnswer) => (answer.verdict === "granted" ? answer.clearance.id : answer.decidedBy);',
      'export const text: string = idOf(await station.clear({ operator: "o", device: "D-1", steps: [] }));',
    ];
    await writeFile(join(bench, 'program.ts'), program.join('\n'));
    const settings = ['--strict', '--noEmit', '--module', 'nodenext', '--target', 'es2022'];
    const told = await exec(process.execPath, [join(process.cwd(), TSC), ...settings, 'program.ts'], {
      cwd: bench,
    }).then(
      () => '',
      (error: unknown) => (error as { stdout: string }).stdout,
    );
    expect(told).toBe('');
  },
  BUILD_MS,
);
