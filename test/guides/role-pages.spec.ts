import { execFile } from 'node:child_process';
import { chmod, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { FamilyMember } from '../support/process-family.js';
import { addressOf, keyOf, RunBench } from '../support/process-run.js';
import { runnable } from '../support/test-environment.js';
import { guideSnippets } from './guide-snippets.js';

const exec = promisify(execFile);
const PAGES = 'docs/guide/roles';
/** In the order in which a house would: what one does, the next finds. */
const ROLES = ['admin', 'station', 'operator', 'quality', 'approver', 'customer', 'auditor'] as const;
/** The demo is loaded first, which takes a busy machine its time. */
const START_MS = 100_000;

/** What an answer of each page must say at the end, besides that no call of it failed. */
const SAID: Readonly<Record<(typeof ROLES)[number], readonly string[]>> = {
  admin: ['"key":"hbk_', '"retried":'],
  station: ['"state":"accepted"'],
  operator: ['"code":"device-excursions"', '"cheapest":'],
  quality: ['"stage":"decided"', '"noLongerInBreach"'],
  approver: ['"state":"released"'],
  customer: ['It holds: ', 'There is no unit 0301 of assembly QRN-DRIVE-3'],
  // Refusals are on record within a second, who signed in before they are answered.
  auditor: ['It holds: ', '"kind":"signed-in"'],
};

describe('the pages for each role', () => {
  let bench: RunBench;
  let run: FamilyMember;
  let folder: string;
  let stationKey = '';

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'heatbook-roles-'));
    // `npx heatbook` is the program under test.
    await writeFile(
      join(folder, 'npx'),
      `#!/bin/sh\nshift\nexec "${process.execPath}" "${runnable('apps/cli/main.ts')}" "$@"\n`,
    );
    await chmod(join(folder, 'npx'), 0o755);
    bench = await RunBench.open();
    run = bench.start({ HEATBOOK_DEMO: '1' });
    await run.printed('Ctrl-C stops it', START_MS);
  }, START_MS + 10_000);

  afterAll(async () => {
    await bench.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('are one for each role, and each is linked', async () => {
    expect((await readdir(PAGES)).sort()).toEqual(ROLES.map((role) => `${role}.md`).sort());
    const readme = await readFile('README.md', 'utf8');
    for (const role of ROLES) expect(readme).toContain(`(${PAGES}/${role}.md)`);
  });

  it.each(ROLES)('%s: every command works as it is shown', async (role) => {
    const [snippet, ...others] = await guideSnippets(`${PAGES}/${role}.md`);
    expect(others).toEqual([]);
    const env = {
      PATH: `${folder}:${process.env['PATH'] ?? ''}`,
      HEATBOOK_URL: addressOf(run),
      HEATBOOK_KEY: keyOf(run),
      STATION_KEY: stationKey,
      PASSWORD: 'correct-horse-battery-9',
    };
    const shell = ['-euo', 'pipefail', '-c', snippet?.code ?? 'exit 3'];
    const { stdout } = await exec('bash', shell, { cwd: folder, env, maxBuffer: 16 * 1024 * 1024 });
    for (const text of SAID[role]) expect(stdout).toContain(text);
    stationKey = /"key":"(hbk_[^"]+)"/.exec(stdout)?.[1] ?? stationKey;
  });
});
