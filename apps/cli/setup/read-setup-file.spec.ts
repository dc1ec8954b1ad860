import { LocatedFile } from '../files/located-file.js';
import { UnusableInput } from '../service/unusable-input.js';
import { readSetupFile, WantedRecord } from './read-setup-file.js';

const PART = '{ lengthMm: 17, widthMm: 17, thicknessMm: 1.4, msl: "3", ballAlloy: SAC305 }';

function read(...lines: string[]): Promise<readonly WantedRecord[]> {
  return readSetupFile(LocatedFile.parse('house.yaml', lines.join('\n')));
}

async function faultsOf(...lines: string[]): Promise<string> {
  const read = async (): Promise<unknown> => readSetupFile(LocatedFile.parse('house.yaml', lines.join('\n')));
  const error = await read().catch((thrown: unknown) => thrown);
  if (!(error instanceof UnusableInput)) throw new Error(`not refused: ${String(error)}`);
  return error.message;
}

it('gives records in the order of entering, with the defaults that the service fills in', async () => {
  const records = await read(
    'limits:',
    '  house: { kind: guard-band, allowed: 5, unit: C, action: hold, source: Policy }',
    'profiles:',
    '  OFF@A: { purpose: removal, alloy: SAC305 }',
    'parts:',
    `  LOGIC-1: ${PART}`,
  );
  expect(records.map(({ section, name }) => [section.name, name])).toEqual([
    ['parts', 'LOGIC-1'],
    ['profiles', 'OFF@A'],
    ['limits', 'house'],
  ]);
  expect(records.map(({ body }) => body)).toEqual([
    { lengthMm: 17, widthMm: 17, thicknessMm: 1.4, msl: '3', ballAlloy: 'SAC305' },
    { purpose: 'removal', alloy: 'SAC305', neighbourPeaks: [] },
    { kind: 'guard-band', allowed: 5, unit: 'C', scope: {}, action: 'hold', source: 'Policy' },
  ]);
  expect(records.map(({ section, name }) => section.path(name))).toEqual([
    '/v1/parts/LOGIC-1',
    '/v1/profiles/OFF/revisions/A',
    '/v1/limits/house',
  ]);
});

it('takes JSON, and what is repeated by an anchor', async () => {
  const json = JSON.stringify({ operators: { 'op-1': { qualifications: [] } } }, null, '\t');
  expect(await read(json)).toHaveLength(1);
  const [, second] = await read('parts:', `  A-1: &a ${PART}`, '  A-2: { <<: *a, msl: "4" }');
  expect(second?.body).toMatchObject({ lengthMm: 17, msl: '4' });
});

it('names the line of everything that is wrong at once', async () => {
  const faults = await faultsOf(
    'parts:',
    '  LOGIC-1:',
    '    lengthMm: 17',
    '    widthMm: 17',
    '    thicknessMm: -1',
    '    msl: 3',
    '    ballAlloy: SAC305',
    '    colour: black',
    '  "LOGIC 2": {}',
    'profiles:',
    '  OFF: { purpose: removal, alloy: SAC305 }',
    'limits:',
    '  house:',
    '    kind: site-reworks',
    '    allowed: 1.5',
    '    unit: reworks',
    '    action: hold',
    '    source: Policy',
    'operatros: {}',
    'stations: [HG-1]',
  );
  const lines = faults.split('\n');
  expect(lines).toEqual(
    expect.arrayContaining([
      expect.stringMatching(/^house\.yaml:19: operatros is no section; there are parts, /),
      'house.yaml:5: part LOGIC-1 /thicknessMm must be a number above 0',
      expect.stringMatching(/^house\.yaml:6: part LOGIC-1 \/msl must be one of .*the number 3 here: put it in quotes/),
      'house.yaml:8: part LOGIC-1 /colour is not known here',
      expect.stringMatching(/^house\.yaml:9: part LOGIC 2 must be a name/),
      expect.stringMatching(/^house\.yaml:11: profile OFF must be called by profile and revision/),
      'house.yaml:15: limit house /allowed must be a whole number from 0',
      expect.stringMatching(/^house\.yaml:20: stations must hold names/),
    ]),
  );
  expect(lines).toHaveLength(8);
});

it('names the line of the record where a member is missing', async () => {
  expect(await faultsOf('', 'stations:', '  HG-1:', '    calibrationDueAt: "2031-01-01T00:00:00Z"')).toBe(
    'house.yaml:3: station HG-1 /kind is missing',
  );
});

it.each([
  ['a name that is there twice', ['parts:', `  A: ${PART}`, `  A: ${PART}`], /^house\.yaml:3: .*unique/],
  ['text that is no YAML', ['parts:', '  A: {'], /^house\.yaml:\d: /],
  ['a list', ['- parts'], /^house\.yaml:1: a setup file has sections/],
  ['nothing', [''], /has sections/],
  ['sections without records', ['parts:'], /no record in it/],
])('refuses %s', async (_what, lines, wanted) => {
  expect(await faultsOf(...lines)).toMatch(wanted);
});
