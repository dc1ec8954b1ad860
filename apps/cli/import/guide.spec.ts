import { readFile } from 'node:fs/promises';
import { LocatedFile } from '../files/located-file.js';
import { readSetupFile } from '../setup/read-setup-file.js';
import { mapRows } from './map-rows.js';
import { readImportMap } from './read-import-map.js';
import { tableIn } from './read-table.js';

/** The first block of a language in a guide. */
async function blockOf(guide: string, language: string): Promise<string> {
  const text = await readFile(new URL(`../../../docs/guide/${guide}`, import.meta.url), 'utf8');
  const block = new RegExp(`^\`\`\`${language}\\n(.*?)^\`\`\``, 'ms').exec(text)?.[1];
  if (block === undefined) throw new Error(`${guide} has no ${language}`);
  return block;
}

it('takes the log and the map of the guide as they stand there', async () => {
  const map = readImportMap(LocatedFile.parse('map.yaml', await blockOf('moving-in.md', 'yaml')));
  const rows = mapRows(map, tableIn('log.csv', await blockOf('moving-in.md', 'csv'), map));
  expect(rows.map(({ state, events }) => [state, ...events.map(({ type, time }) => `${type} ${time}`)])).toEqual([
    ['mapped', 'heatbook.unit.received.v1 2026-03-04T08:10:00+01:00'],
    ['mapped', 'heatbook.device.removed.v1 2026-03-04T09:10:00+01:00'],
    ['mapped', 'heatbook.site.dressed.v1 2026-03-04T09:25:00+01:00'],
    ['mapped', 'heatbook.inspection.recorded.v1 2026-03-04T09:25:00.001+01:00'],
    ['skipped'],
  ]);
});

it('takes the setup file of the guide as it stands there', async () => {
  const wanted = await readSetupFile(LocatedFile.parse('house.yaml', await blockOf('command-line.md', 'yaml')));
  expect(wanted.map(({ section, name }) => `${section.kind} ${name}`)).toEqual([
    'part LOGIC-17',
    'assembly DOC-1',
    'profile DOC-1-OFF@A',
    'station DOC-GAS',
    'operator op-7',
    'limit doc-reworks',
    'copper rate SAC305',
  ]);
  expect(wanted[1]?.body).toMatchObject({
    sites: [
      { refdes: 'U1', pads: 256 },
      { refdes: 'U2', pads: 256 },
    ],
  });
});
