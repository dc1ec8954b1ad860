import { execFile } from 'node:child_process';
import { access, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';

const exec = promisify(execFile);
const UNITS = 'systemd';

const names = await readdir(UNITS);
const hasSystemd = await exec('systemd-analyze', ['--version']).then(
  () => true,
  () => false,
);

describe('the systemd units', () => {
  it('are those of one process, of an api and of a worker', () => {
    expect(names.sort()).toEqual(['heatbook-api@.service', 'heatbook-worker@.service', 'heatbook.service']);
  });

  it.each(names)('%s: starts a program that there is, with variables that there are', async (name) => {
    const text = await readFile(join(UNITS, name), 'utf8');
    const [, program = ''] = /^ExecStart=.* dist\/(\S+)\.js/m.exec(text) ?? [];
    await access(`${program}.ts`);
    const readme = await readFile('README.md', 'utf8');
    const set = text.split('\n').flatMap((line) => (line.startsWith('Environment=') ? line.slice(12).split(' ') : []));
    expect(set.length).toBeGreaterThan(0);
    for (const variable of set.map((one) => one.split('=')[0] ?? '')) {
      expect(readme).toContain(`\`${variable.replace(/_FILE$/, '')}\``);
    }
  });

  // Where there is no systemd nobody starts anything by it.
  it('are such that systemd has nothing to say of them', async () => {
    if (!hasSystemd) return;
    for (const name of names) {
      const text = await readFile(join(UNITS, name), 'utf8');
      expect(await complaints(name, text)).toBe('');
      expect(await complaints(name, text.replace('Restart=on-failure', 'Restart=sometimes'))).not.toBe('');
    }
  });
});

/** What systemd says of a unit on this machine, where Node may lie elsewhere. */
async function complaints(name: string, text: string): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'heatbook-units-'));
  try {
    const path = join(folder, name.replace('@', '@3000'));
    await writeFile(path, text.replaceAll('/usr/bin/node', process.execPath));
    const { stdout, stderr } = await exec('systemd-analyze', ['verify', path]).catch((error: unknown) => ({
      stdout: '',
      stderr: String(error),
    }));
    return stdout + stderr;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
