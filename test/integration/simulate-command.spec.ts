import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ProcessFamily } from '../support/process-family.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';

const PATIENCE_MS = 25_000;

describe('heatbook simulate', () => {
  const family = new ProcessFamily();
  let house: RunningHouse;
  let folder: string;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'heatbook-simulate-'));
    house = await runningHouse();
  });

  afterAll(async () => {
    await family.endAll();
    await house.close();
    await rm(folder, { recursive: true, force: true });
  });

  async function say(args: readonly string[], url = house.url): Promise<{ code: unknown; out: string; err: string }> {
    const env = { HEATBOOK_URL: url, HEATBOOK_KEY: house.adminKey };
    const run = family.start('apps/cli/main.ts', env, ['simulate', ...args]);
    const code = await run.endsWithin(PATIENCE_MS);
    return { code, out: run.stdout(), err: run.stderr() };
  }

  it('says what it did and what Heatbook said, and keeps what it planted to a file where that is wished', async () => {
    const answers = join(folder, 'answers.txt');
    const { code, out } = await say(['--boards', '2', '--mistakes', 'each', '--traced', '0', '--answers', answers]);
    expect(out).toMatch(/^2 boards in [\d.]+ s, \d+ events\/s\.$/m);
    expect(out).toMatch(/^Holds: .*1 sequence-broken/m);
    expect(out).not.toContain('wrong-serial');
    expect(await readFile(answers, 'utf8')).toMatch(/^found {2}wrong-serial, .*\n +hold sequence-broken on /m);
    expect(code).toBe(0);
  });

  it('prints the same as JSON', async () => {
    const { code, out } = await say(['--boards', '1', '--mistakes', '0', '--traced', '0', '--seed', '2', '--json']);
    expect(JSON.parse(out)).toMatchObject({ duplicates: 0, rejected: 0, said: {}, mistakes: [], unexpected: [] });
    expect(code).toBe(0);
  });

  it('ends with 2 and one line where it cannot be played, and refuses what makes no sense', async () => {
    const away = await say(['--boards', '1'], 'http://127.0.0.1:9');
    expect(away).toMatchObject({ code: 2, out: '' });
    expect(away.err).toMatch(/^http:\S+ does not answer: [^\n]*\n$/);
    expect(await say(['--mistakes', '1.5'])).toMatchObject({ code: 2 });
    expect(await say(['--hours', '21'])).toMatchObject({ code: 2 });
  });
});
