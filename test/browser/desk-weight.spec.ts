import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { BuiltPages, builtPages } from '../support/built-pages.js';

/** What may come over the line before the first page shows, and with each page, in kB (1000 bytes) compressed. */
const ENTRY_KB = 110;
const PAGE_KB = 40;
const ALL_KB = 300;

describe('The scripts and styles of the desk', () => {
  let pages: BuiltPages;
  let weights: ReadonlyMap<string, number>;

  beforeAll(async () => {
    pages = await builtPages();
    const folder = join(pages.folder, 'desk', 'assets');
    const files = (await readdir(folder)).filter((name) => /\.(js|css)$/.test(name));
    weights = new Map(
      await Promise.all(
        files.map(async (name) => [name, gzipSync(await readFile(join(folder, name))).length / 1000] as const),
      ),
    );
  }, 60_000);
  afterAll(() => pages.remove());

  it('weigh little before the first page', async () => {
    const html = await readFile(join(pages.folder, 'desk', 'index.html'), 'utf8');
    const named = [...weights].filter(([name]) => html.includes(name));
    expect(named.length).toBeGreaterThan(1);
    expect(sum(named)).toBeLessThan(ENTRY_KB);
  });

  it('weigh little with each page, and together', () => {
    const rest = [...weights].filter(([name]) => !name.startsWith('index-'));
    expect(rest.length).toBeGreaterThan(5);
    for (const [name, kb] of rest) expect({ name, fits: kb < PAGE_KB }).toEqual({ name, fits: true });
    expect(sum([...weights])).toBeLessThan(ALL_KB);
  });
});

function sum(weights: readonly (readonly [string, number])[]): number {
  return weights.reduce((total, [, kb]) => total + kb, 0);
}
