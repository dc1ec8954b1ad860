import { spawn } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { text } from 'node:stream/consumers';
import { packed, sampleFiles, sampleManifest } from '../../libs/evidence/spec-support/sample-archive.js';
import { SampleHouse, sampleSigner } from '../../libs/evidence/spec-support/sample-house.js';
import { runnable } from '../support/test-environment.js';

const ORIGIN = 'heatbook/sample';
const UNIT = 'DEMO-100/SN-1';

let folder: string;
let house: SampleHouse;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'heatbook-verify-'));
  house = new SampleHouse(sampleSigner(1, ORIGIN), ORIGIN);
  for (let n = 0; n < 3; n += 1) house.write(UNIT, { data: { n } });
});

afterAll(() => rm(folder, { recursive: true, force: true }));

async function file(name: string, content: string | Uint8Array | object): Promise<string> {
  const path = join(folder, name);
  const bytes = typeof content === 'string' || content instanceof Uint8Array ? content : JSON.stringify(content);
  await writeFile(path, bytes);
  return path;
}

/** Runs `heatbook verify` as a process of its own. */
async function verify(
  args: readonly string[],
  input = '',
): Promise<{ code: number | null; out: string; error: string }> {
  const child = spawn(process.execPath, [runnable('apps/cli/main.ts'), 'verify', ...args], { env: {} });
  child.stdin.end(input);
  const over = new Promise<number | null>((resolve) => child.once('close', resolve));
  const [out, error] = await Promise.all([text(child.stdout), text(child.stderr)]);
  return { code: await over, out, error };
}

describe('heatbook verify', () => {
  it('says that a file holds, one does not, and one cannot be read, by its exit code and in words', async () => {
    const document = await house.audit();
    const sound = await verify([await file('sound.json', document), '--key', house.signer.vkey]);
    expect(sound).toMatchObject({ code: 0, error: '' });
    expect(sound.out).toContain(`It holds: the audit of ${UNIT}`);
    const forged = await verify(['-'], JSON.stringify({ ...document, unit: { state: 'shipped' } }));
    expect(forged.code).toBe(1);
    expect(forged.out).toContain('NOT OK  the seal of the file');
    const cut = await verify([await file('cut.json', JSON.stringify(document).slice(0, 100)), '--json']);
    expect(cut.code).toBe(2);
    expect(JSON.parse(cut.out)).toMatchObject({ holds: false, findings: [{ code: 'file-cut' }] });
    const none = await verify([join(folder, 'none.json')]);
    expect(none).toMatchObject({ code: 2, out: '' });
    expect(none.error).toContain('none.json cannot be checked');
  });

  it('takes an archive, and the key from a file', async () => {
    const files = await sampleFiles(house, [UNIT]);
    const archive = await file('archive.zip', await packed(files, sampleManifest(files), house.signer));
    const { code, out } = await verify([archive, '--key', await file('key.txt', `${house.signer.vkey}\n`)]);
    expect(out).toContain('It holds: the archive of 1 unit (3 entries)');
    expect(code).toBe(0);
  });

  it('holds a file against what was kept, and says what of it cannot be read', async () => {
    const before = await file('before.json', await house.audit());
    const size = house.leaves.length;
    house.write(UNIT);
    const now = await file('now.json', await house.audit());
    const proof = await file('proof.json', await house.consistency(size));
    expect((await verify([now, '--checkpoint', before])).code).toBe(1);
    expect((await verify([now, '--checkpoint', before, '--proof', proof])).code).toBe(0);
    expect((await verify([before, '--checkpoint', now])).out).toContain('the book was put back');
    const nothing = await file('nothing.json', '{}');
    for (const args of [
      ['--key', nothing],
      ['--checkpoint', nothing],
    ]) {
      const { code, error } = await verify([now, ...args]);
      expect(code).toBe(2);
      expect(error).toContain('nothing.json holds n');
    }
  });
});
