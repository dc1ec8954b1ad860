import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';

/**
 * Requirements of OWASP ASVS 5.0.0 at levels 1 and 2, by section. In every section they come before those of level 3, so that how
 * many there are says which: 253 in all.
 */
const REQUIRED: Readonly<Record<string, number>> = {
  ...{ '1.1': 2, '1.2': 9, '1.3': 11, '1.4': 3, '1.5': 2, '2.1': 3, '2.2': 3, '2.3': 4, '2.4': 1 },
  ...{ '3.2': 2, '3.3': 4, '3.4': 6, '3.5': 5, '3.7': 2, '4.1': 3, '4.2': 1, '4.3': 2, '4.4': 4 },
  ...{ '5.1': 1, '5.2': 3, '5.3': 2, '5.4': 3, '6.1': 3, '6.2': 12, '6.3': 4, '6.4': 4, '6.5': 5, '6.6': 3, '6.8': 4 },
  ...{ '7.1': 3, '7.2': 4, '7.3': 2, '7.4': 5, '7.5': 2, '7.6': 2, '8.1': 2, '8.2': 3, '8.3': 1, '8.4': 1 },
  ...{ '9.1': 3, '9.2': 4, '10.1': 2, '10.2': 2, '10.3': 4, '10.4': 11, '10.5': 5, '10.6': 2, '10.7': 3 },
  ...{ '11.1': 2, '11.2': 3, '11.3': 3, '11.4': 4, '11.5': 1, '11.6': 1, '12.1': 3, '12.2': 2, '12.3': 4 },
  ...{ '13.1': 1, '13.2': 5, '13.3': 2, '13.4': 5, '14.1': 2, '14.2': 4, '14.3': 3, '15.1': 3, '15.2': 3, '15.3': 7 },
  ...{ '16.1': 1, '16.2': 5, '16.3': 4, '16.4': 3, '16.5': 3, '17.1': 1, '17.2': 4, '17.3': 2 },
};
const STATES = ['met', 'partly', 'setting', 'not met', 'n/a'];
const PAGES = ['web', 'identity', 'secrets-and-wires', 'running'].map((name) => `docs/security/${name}.md`);
const ROW = /^\| (\d+\.\d+\.\d+(?:, \d+\.\d+\.\d+)*) +\|(?:[^|]*\|)?? +(met|partly|setting|not met|n\/a) +\|/;

describe('the security review', () => {
  let states: readonly (readonly [item: string, state: string])[];

  beforeAll(async () => {
    const texts = await Promise.all(PAGES.map((page) => readFile(page, 'utf8')));
    states = texts
      .flatMap((text) => text.split('\n'))
      .flatMap((line) => {
        const [, items = '', state = ''] = ROW.exec(line) ?? [];
        return items === '' ? [] : items.split(', ').map((item) => [item, state] as const);
      });
  });

  it('says of every requirement up to level 2 how it stands, once, and of no other', () => {
    const wanted = Object.entries(REQUIRED).flatMap(([section, count]) =>
      Array.from({ length: count }, (_, n) => `${section}.${n + 1}`),
    );
    expect(wanted).toHaveLength(253);
    expect(states.map(([item]) => item).sort()).toEqual(wanted.sort());
  });

  it('counts them as they are', async () => {
    const counted = STATES.map((state) => `| ${state} | ${states.filter(([, one]) => one === state).length} |`);
    const summary = (await readFile('docs/security.md', 'utf8')).replaceAll(/ +\|/g, ' |').replaceAll(/\| +/g, '| ');
    expect(counted.filter((row) => !summary.includes(row))).toEqual([]);
  });

  it('names no file that is not there', async () => {
    const texts = await Promise.all([...PAGES, 'docs/security.md'].map((page) => readFile(page, 'utf8')));
    const named = texts.flatMap((text) =>
      [...text.matchAll(/`((?:apps|libs|test|docker|migrations|docs|\.ci)\/[^`\s]+)`/g)].map(([, path = '']) => path),
    );
    expect(named.length).toBeGreaterThan(60);
    expect([...new Set(named)].filter((path) => !existsSync(path))).toEqual([]);
  });
});
