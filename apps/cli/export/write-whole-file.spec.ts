import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ServiceRefused } from '../service/service-client.js';
import { checkpointSize } from './checkpoint-size.js';
import { writeWholeFile } from './write-whole-file.js';

const CHECKPOINT = [
  ...['heatbook/0123456789ab', '42', Buffer.alloc(32, 7).toString('base64'), ''],
  `— heatbook/0123456789ab ${Buffer.alloc(68, 9).toString('base64')}\n`,
].join('\n');

let folder: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'heatbook-export-'));
});

afterEach(() => rm(folder, { recursive: true, force: true }));

describe('writeWholeFile', () => {
  it('writes what came, in place of what was there', async () => {
    const file = join(folder, 'audit.json');
    await writeFile(file, 'from before');
    await writeWholeFile(file, new Response('whole'));
    expect(await readFile(file, 'utf8')).toBe('whole');
    expect(await readdir(folder)).toEqual(['audit.json']);
  });

  it.each<[string, () => Response]>([
    ['breaks off', () => new Response(brokenOff())],
    ['is shorter than it was told to be', () => new Response('cut', { headers: { 'content-length': '4' } })],
    ['has nothing in it', () => new Response(null)],
  ])('leaves what was there where the answer %s', async (_what, response) => {
    const file = join(folder, 'audit.json');
    await writeFile(file, 'from before');
    await expect(writeWholeFile(file, response())).rejects.toThrow(ServiceRefused);
    expect(await readdir(folder)).toEqual(['audit.json']);
    expect(await readFile(file, 'utf8')).toBe('from before');
  });
});

describe('checkpointSize', () => {
  async function sizeIn(text: string): Promise<number> {
    const file = join(folder, 'kept');
    await writeFile(file, text);
    return checkpointSize(file);
  }

  it('reads a signed checkpoint', async () => {
    expect(await sizeIn(CHECKPOINT)).toBe(42);
  });

  it.each(['', 'no checkpoint', '{}', CHECKPOINT.replace('42', '4x')])(
    'refuses %j, and says what to give',
    async (text) => {
      await expect(sizeIn(text)).rejects.toThrow('give a signed checkpoint');
    },
  );

  it('refuses a file that is not there', async () => {
    await expect(checkpointSize(join(folder, 'missing'))).rejects.toThrow(ServiceRefused);
  });
});

/** As fetch gives the body of a connection that ends too early. */
function brokenOff(): ReadableStream<Uint8Array> {
  let pulls = 0;
  return new ReadableStream({
    pull: (controller) => {
      pulls += 1;
      if (pulls === 1) controller.enqueue(new TextEncoder().encode('half'));
      else controller.error(new TypeError('terminated'));
    },
  });
}
