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

  /** What the commands print. @throws where one of them fails */
  async function printedBy(code: string): Promise<string> {
    const env = {
      PATH: `${folder}:${process.env['PATH'] ?? ''}`,
      HEATBOOK_URL: addressOf(run),
      HEATBOOK_KEY: keyOf(run),
      STATION_KEY: stationKey,
      PASSWORD: 'correct-horse-battery-9',
    };
    const shell = ['-euo', 'pipefail', '-c', code];
    return (await exec('bash', shell, { cwd: folder, env, maxBuffer: 16 * 1024 * 1024 })).stdout;
  }

  it.each(ROLES)('%s: every command works as it is shown', async (role) => {
    const [snippet, ...others] = await guideSnippets(`${PAGES}/${role}.md`);
    expect(others).toEqual([]);
    const stdout = await printedBy(snippet?.code ?? 'exit 3');
    for (const text of SAID[role]) expect(stdout).toContain(text);
    stationKey = /"key":"(hbk_[^"]+)"/.exec(stdout)?.[1] ?? stationKey;
  });

  it('station: does not heat when it was not granted', async () => {
    const [snippet] = await guideSnippets(`${PAGES}/station.md`);
    // The device on U1 of this board has seen one excursion too many.
    const refused = (snippet?.code ?? '')
      .replaceAll('T-1001', '0103')
      .replace(
        '"type": "heatbook.device.removed.v1", "refdes": "U1", "fate": "scrap"',
        '"type": "heatbook.site.heated.v1", "refdes": "U1"',
      );
    await expect(printedBy(refused)).rejects.toMatchObject({
      code: 1,
      stdout: expect.stringMatching(/"code":"device-excursions"[^]*Do not heat\.\n$/) as unknown,
    });
  });

  it('other guides: what the board of the first event is asked a clearance for is granted', async () => {
    const firstEvent = await guideSnippets('docs/guide/first-event.md');
    const clearances = await guideSnippets('docs/guide/clearances.md');
    const codeOf = (file: string): string =>
      [...firstEvent, ...clearances].find((snippet) => snippet.file === file)?.code ?? 'exit 3';
    expect(await printedBy(codeOf('first-event.sh'))).toContain('"state":"applied"');
    expect(await printedBy(codeOf('first-clearance.sh'))).toMatch(/granted/i);
    expect(await printedBy(codeOf('clearance.sh'))).toContain('"state":"granted"');
  });
});
