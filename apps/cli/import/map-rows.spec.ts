import { LocatedFile } from '../files/located-file.js';
import { UnusableInput } from '../service/unusable-input.js';
import { ImportMap } from './import-map.js';
import { MappedRow, mapRows } from './map-rows.js';
import { readImportMap } from './read-import-map.js';
import { tableIn } from './read-table.js';

const MAP = `
station: OLD-LOG
timeZone: Europe/Berlin
dateFormat: dd.MM.yyyy HH:mm
decimal: ","
skip:
  - { Step: note }
events:
  - type: device.removed
    when: { Step: [off, removed] }
    subject: "{Board}/{Serial}"
    time: { column: [Day, Clock] }
    data:
      refdes: "{Pos}"
      fate: scrap
      operator: { column: Who, values: { HM: op-1 } }
      note: "by {Who}: {Remark}"
      profile: { name: OLD, revision: A }
      heat:
        startedAt: { column: [Day, Clock], as: time }
        endedAt: { column: [Day, Clock], as: time }
        thermocouples:
          - { id: tc1, position: joint, peakC: { column: Peak, as: number } }
          - { id: tc2, position: die, peakC: { column: Die, as: number } }
  - type: heatbook.site.cleaned.v1
    when: { Step: off, Washed: x }
    subject: "{Board}/{Serial}"
    time: { column: [Day, Clock] }
    data: { refdes: "{Pos}", agent: { column: Agent, default: solvent } }
`;
const HEADER = 'Nr;Day;Clock;Board;Serial;Pos;Step;Who;Peak;Die;Washed;Agent;Remark';
const ROW = '1;04.03.2026;09:10;BRD-1;S1;U1;off;HM;238,5;;;;';

function mapOf(text = MAP): ImportMap {
  return readImportMap(LocatedFile.parse('map.yaml', text));
}

function rowsOf(lines: readonly string[], map = mapOf()): readonly MappedRow[] {
  return mapRows(map, tableIn('log.csv', [HEADER, ...lines].join('\n'), map));
}

function idsOf(rows: readonly MappedRow[]): string[] {
  return rows.flatMap(({ events }) => events.map(({ id }) => id));
}

function faultsOf(text: string): string {
  try {
    mapOf(text);
  } catch (error) {
    if (error instanceof UnusableInput) return error.message;
    throw error;
  }
  return '';
}

it('makes events of the schemas of the service, and leaves out what comes from empty cells', () => {
  const [row] = rowsOf([ROW]);
  const time = '2026-03-04T09:10:00+01:00';
  expect(row).toMatchObject({ row: 2, state: 'mapped', faults: [] });
  expect(row?.events).toEqual([
    {
      specversion: '1.0',
      id: expect.stringMatching(/^row-[0-9a-f]{32}\/device\.removed$/) as string,
      source: '/stations/OLD-LOG',
      type: 'heatbook.device.removed.v1',
      subject: 'BRD-1/S1',
      time,
      data: {
        refdes: 'U1',
        fate: 'scrap',
        operator: 'op-1',
        profile: { name: 'OLD', revision: 'A' },
        heat: { startedAt: time, endedAt: time, thermocouples: [{ id: 'tc1', position: 'joint', peakC: 238.5 }] },
      },
    },
  ]);
});

it('says of a heat that nobody measured that there are no thermocouples', () => {
  const [row] = rowsOf([ROW.replace('238,5', '')]);
  expect(row?.events[0]?.['data']).toMatchObject({ heat: { thermocouples: [] } });
  // Without any figure of it the heat is left out, and the schema asks for it.
  const map = mapOf(MAP.replaceAll(/(startedAt|endedAt): .*/g, '$1: "{Remark}"'));
  expect(rowsOf([ROW.replace('238,5', '')], map)[0]?.faults[0]?.detail).toMatch(
    /^\/data\/heat: The member "heat" is missing/,
  );
});

it('makes several events of a row, kept apart in time as in the log', () => {
  const [row] = rowsOf([ROW.replace(';;;;', ';;x;;')]);
  expect(row?.events.map(({ type, time }) => [type, time])).toEqual([
    ['heatbook.device.removed.v1', '2026-03-04T09:10:00+01:00'],
    ['heatbook.site.cleaned.v1', '2026-03-04T09:10:00.001+01:00'],
  ]);
  expect(row?.events[1]?.['data']).toEqual({ refdes: 'U1', agent: 'solvent' });
});

it('gives the same ids to the same rows, wherever they stand, and counts copies', () => {
  const other = ROW.replace('S1', 'S2');
  const [a, b, copy] = idsOf(rowsOf([ROW, other, ROW]));
  expect(copy).toBe(a?.replace('/', '-2/'));
  expect(idsOf(rowsOf([';;;;;;;;;;;;', other, ROW]))).toEqual([b, a]);
  // An empty column more says nothing more.
  const map = mapOf();
  const wider = mapRows(map, tableIn('log.csv', `${HEADER};More\n${ROW};`, map));
  expect(idsOf(wider)).toEqual([a]);
  expect(idsOf(rowsOf([ROW.replace('238,5', '238,6')]))).not.toEqual([a]);
});

it('takes ids from a column, so that a row that is mended stays the same row', () => {
  const map = mapOf(`id: "log-{Nr}"\n${MAP}`);
  expect(idsOf(rowsOf([ROW], map))).toEqual(['log-1/device.removed']);
  const [, twice, none] = rowsOf([ROW, ROW, ROW.replace('1;', ';')], map);
  expect(twice?.faults).toEqual([{ columns: ['Nr'], detail: '"log-1" names row 2 already' }]);
  expect(none?.faults).toEqual([{ columns: ['Nr'], detail: 'is empty, but it is to name the row' }]);
});

it.each<[string, string, string, string[], RegExp]>([
  ['a time that is none', '09:10', '25:10', ['Day', 'Clock'], /"04\.03\.2026 25:10" is no time of the form/],
  ['a figure with another sign', '238,5', '238.5', ['Peak'], /"238\.5" is no number with ","/],
  ['a figure with thousands', '238,5', '1.238,5', ['Peak'], /is no number/],
  ['a word that the map does not know', 'HM', 'KL', ['Who'], /"KL" is none of the values of the map: HM/],
  ['an empty cell that is needed', 'U1', '', ['Pos'], /^\/data\/refdes: The member "refdes" is missing/],
  ['a name that is none', 'U1', 'U 1', ['Pos'], /^\/data\/refdes: Expected a name/],
  ['half a subject', 'S1', '', ['Board', 'Serial'], /^\/subject: /],
  [
    'a peak that nothing reaches',
    '238,5',
    '9238',
    ['Peak'],
    /^\/data\/heat\/thermocouples\/0\/peakC: Expected a number/,
  ],
])('refuses %s, once and by its columns', (_what, from, to, columns, detail) => {
  const [row] = rowsOf([ROW.replace(from, to)]);
  expect(row).toMatchObject({ state: 'unfit', events: [] });
  expect([...new Set(row?.faults.map((fault) => fault.columns.join()))]).toEqual([columns.join()]);
  expect(row?.faults[0]?.detail).toMatch(detail);
});

it('tells rows that are skipped from rows that nothing is for', () => {
  const [note, coffee] = rowsOf(['8;;;;;;note;;;;;;', ROW.replace('off', 'coffee')]);
  expect(note).toMatchObject({ row: 2, state: 'skipped', faults: [] });
  expect(coffee).toMatchObject({ row: 3, state: 'unmatched' });
  expect(coffee?.faults[0]?.detail).toBe('no event of the map is for Step "coffee", Washed ""');
});

it('names the line of the map where something is wrong with it', () => {
  const lines = faultsOf(
    [
      'timeZone: Mordor',
      'dateFormat: HH:mm',
      'decimals: ","',
      'events:',
      '  - type: site.cleand',
      '  - type: site.cleaned',
      '    when: {}',
      '    time: { column: Day, as: date }',
      '    data: { refdes: "{Pos", agent: { column: A, formt: iso } }',
    ].join('\n'),
  ).split('\n');
  expect(lines.map((line) => line.slice(0, line.indexOf(': ')))).toEqual(
    expect.arrayContaining([
      'map.yaml:1',
      'map.yaml:2',
      'map.yaml:3',
      'map.yaml:5',
      'map.yaml:6',
      'map.yaml:7',
      'map.yaml:8',
      'map.yaml:9',
    ]),
  );
  const text = lines.join('\n');
  expect(text).toContain('decimals is not known here, did you mean decimal?');
  expect(text).toContain('site.cleand is no type of event: did you mean site.cleaned?');
  expect(text).toContain('station is missing');
  expect(text).toContain('subject is missing: such as "{Assembly}/{Serial}"');
});

it('says which columns the file lacks, and where the map names them', () => {
  const map = mapOf();
  const read = (): unknown => tableIn('log.csv', `${HEADER.replace('Serial', 'Serail')}\n${ROW}`, map);
  expect(read).toThrow('map.yaml:11: log.csv has no column "Serial". Did you mean "Serail"?');
  const twice = (): unknown => tableIn('log.csv', `${HEADER};Pos\n${ROW}`, map);
  expect(twice).toThrow('there are two columns "Pos"');
});

it('finds what stands between cells, takes the header where it is told, and counts rows as the spreadsheet does', () => {
  const map = mapOf(`headerRow: 3\n${MAP}`);
  const text = ['Log of bench 7', '', HEADER, '"a\nb";;;;;;note;;;;;;', ROW].join('\r\n').replaceAll(';', '\t');
  expect(mapRows(map, tableIn('log.csv', `\uFEFF${text}`, map)).map(({ row, state }) => [row, state])).toEqual([
    [4, 'skipped'],
    [5, 'mapped'],
  ]);
});
