import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ADMIN_KEY, SpecApi, startApi } from '../../apps/api/spec-support/start-api.js';
import { EndedCommand, runHeatbook } from '../support/run-heatbook.js';

const HOUSE = `
parts:
  LOGIC-1: { lengthMm: 17, widthMm: 17, thicknessMm: 1.4, msl: "3", ballAlloy: SAC305 }
assemblies:
  BRD-1:
    customer: Nordlicht Instruments
    description: Sample board
    leadFree: true
    sites:
      - { refdes: U1, part: LOGIC-1, side: top, pads: 256, padDiameterMm: 0.4, padCopperUm: 35, finish: osp,
          ballPitchMm: 0.8, ballDiameterMm: 0.5, jointAlloy: SAC305, xMm: 10, yMm: 10 }
profiles:
  LOGIC-OFF@A: { purpose: removal, alloy: SAC305, assembly: BRD-1, site: U1 }
stations:
  HG-1: { kind: hot gas }
operators:
  op-1: { qualifications: [{ skill: removal, validUntil: "2031-12-31T23:59:59+01:00" }] }
limits:
  site-reworks: { kind: site-reworks, allowed: 2, unit: reworks, action: hold, source: Policy }
copperRates:
  SAC305: { flowingUmPerS: 0.1, stillUmPerS: 0.05, source: Measured on coupons }
`;

let folder: string;
let api: SpecApi;

beforeEach(async () => {
  [folder, api] = [await mkdtemp(join(tmpdir(), 'heatbook-setup-')), await startApi()];
});

afterEach(async () => {
  await api.close();
  await rm(folder, { recursive: true, force: true });
});

async function setup(content: string, ...options: string[]): Promise<EndedCommand> {
  await writeFile(join(folder, 'house.yaml'), content);
  return run('setup', 'house.yaml', ...options);
}

function run(...args: string[]): Promise<EndedCommand> {
  return runHeatbook(args, { url: api.url, key: ADMIN_KEY, cwd: folder });
}

async function revisionOf(path: string): Promise<unknown> {
  const { body } = await api.ask('GET', path);
  return typeof body === 'object' && body !== null && 'revision' in body ? body.revision : undefined;
}

it('enters what a file says, once, and tells what differs before', async () => {
  const dry = await setup(HOUSE, '--dry-run');
  expect(dry).toMatchObject({ code: 3, stderr: '' });
  expect(dry.stdout).toContain('part LOGIC-1: new\n');
  expect(dry.stdout).toMatch(/limit site-reworks:\n {4}allowed +3 -> 2\n/);
  expect(dry.stdout).toContain('6 new, 1 different, 0 as in force already: nothing was entered (dry run).');
  expect((await api.ask('GET', '/v1/parts/LOGIC-1')).status).toBe(404);
  expect(await setup(HOUSE)).toMatchObject({ code: 0, stdout: expect.stringContaining(': entered.') as string });
  expect((await api.ask('GET', '/v1/profiles/LOGIC-OFF/revisions/A')).status).toBe(200);
  const again = await setup(HOUSE);
  expect(again).toEqual({ code: 0, stdout: '0 new, 0 different, 7 as in force already: nothing to do.\n', stderr: '' });
});

it('puts only what differs, and tells it field by field in JSON too', async () => {
  await setup(HOUSE);
  const { code, stdout } = await setup(HOUSE.replace('padCopperUm: 35', 'padCopperUm: 18'), '--json');
  expect(code).toBe(0);
  expect(JSON.parse(stdout)).toEqual({
    dryRun: false,
    same: 6,
    warnings: [],
    changes: [
      {
        kind: 'assembly',
        name: 'BRD-1',
        at: 'house.yaml:5',
        change: 'different',
        fields: [{ field: 'sites[U1].padCopperUm', from: 35, to: 18 }],
        applied: true,
      },
    ],
  });
  expect([await revisionOf('/v1/assemblies/BRD-1'), await revisionOf('/v1/parts/LOGIC-1')]).toEqual([2, 1]);
});

it('prints what is in force as a file that changes nothing', async () => {
  await setup(HOUSE);
  const { stdout } = await run('setup', '--print');
  expect(await setup(stdout, '--dry-run')).toMatchObject({ code: 0, stderr: '' });
});

it('warns of names that nobody has, and enters the rest', async () => {
  const { code, stderr } = await setup(HOUSE.replace('part: LOGIC-1', 'part: LOGIC-2'));
  expect([code, stderr]).toEqual([0, 'house.yaml:10: part LOGIC-2 is neither in the file nor in force\n']);
});

it('sends nothing of a file that cannot be used', async () => {
  const { code, stdout, stderr } = await setup(HOUSE.replace('"3"', '3'));
  expect([code, stdout]).toEqual([2, '']);
  expect(stderr).toMatch(/^house\.yaml:3: part LOGIC-1 \/msl must be one of/);
  expect((await api.ask('GET', '/v1/stations/HG-1')).status).toBe(404);
  expect(await run('setup', 'none.yaml')).toMatchObject({ code: 2, stderr: 'none.yaml cannot be read (ENOENT).\n' });
  expect((await run('setup')).code).toBe(2);
});

it('says what the service refuses, in which line, and what was entered before', async () => {
  await setup(HOUSE);
  const file = HOUSE.replace('"3"', '"4"').replace('kind: site-reworks, allowed: 2', 'kind: guard-band, allowed: 2');
  const { code, stderr } = await setup(file);
  expect([code, stderr]).toEqual([
    1,
    'house.yaml:19: limit site-reworks /kind must stay site-reworks; enter a limit of another kind under another name\n' +
      '1 of 2 were entered before it; run it again to go on.\n',
  ]);
  expect(await revisionOf('/v1/parts/LOGIC-1')).toBe(2);
});

it('says that there is no key, a wrong one, or nobody there', async () => {
  await writeFile(join(folder, 'house.yaml'), HOUSE);
  const ask = (place: { url: string; key?: string }): Promise<EndedCommand> =>
    runHeatbook(['setup', 'house.yaml'], { ...place, cwd: folder });
  const none = await ask({ url: api.url });
  expect([none.code, none.stderr]).toEqual([1, expect.stringContaining('HEATBOOK_KEY is not set')]);
  const wrong = await ask({ url: api.url, key: 'hbk_not-a-key-of-this-house' });
  expect([wrong.code, wrong.stderr]).toEqual([1, expect.stringContaining('answered 401: ')]);
  await api.close();
  const away = await ask({ url: api.url, key: ADMIN_KEY });
  expect([away.code, away.stderr]).toEqual([1, expect.stringContaining('cannot be reached (ECONNREFUSED)')]);
  api = await startApi();
});
