import { once } from 'node:events';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { enterSampleSetup, stationKey } from '../../apps/api/spec-support/sample-setup.js';
import { ADMIN_KEY, SpecApi, startApi } from '../../apps/api/spec-support/start-api.js';
import { EndedCommand, runHeatbook } from '../support/run-heatbook.js';

const UNIT = ['--assembly', 'BRD-1', '--serial', 'S1', '--operator', 'op-1'];
const REMOVAL = ['--step', 'device.removed refdes=U1 fate=scrap'];

let folder: string;
let api: SpecApi;

beforeAll(async () => {
  [folder, api] = [await mkdtemp(join(tmpdir(), 'heatbook-clear-')), await startApi()];
  await enterSampleSetup(api);
});

afterAll(async () => {
  await api.close();
  await rm(folder, { recursive: true, force: true });
});

function clear(args: readonly string[], { key = ADMIN_KEY, url = api.url } = {}): Promise<EndedCommand> {
  return runHeatbook(['clear', ...args], { url, key, cwd: folder });
}

async function stateOf(id: string): Promise<unknown> {
  const { body } = await api.ask('GET', `/v1/clearances/${id}`);
  return typeof body === 'object' && body !== null && 'state' in body ? body.state : undefined;
}

it('prints what was granted and what it spends, and gives it back', async () => {
  const key = await stationKey(api, 'HG-1');
  const { code, stdout } = await clear([...UNIT, ...REMOVAL], { key });
  expect(code).toBe(0);
  expect(stdout).toMatch(
    /^ {2}spends {3}1 site-reworks of site U1 of BRD-1\/S1: 0 used, 1 reserved with this, 3 allowed$/m,
  );
  const id = String(/^granted (\S+), until \d{4}-/.exec(stdout)?.[1]);
  expect(await stateOf(id)).toBe('granted');
  const back = await clear(['--give-back', id, '--json'], { key });
  expect([back.code, JSON.parse(back.stdout)]).toEqual([0, expect.objectContaining({ id, state: 'returned' })]);
});

it('prints each reason of a refusal with what mends it, and ends with a code of its own', async () => {
  const dressing = ['--step', 'site.dressed refdes=U9 method=braid'];
  const refused = await clear([...UNIT, '--station', 'HG-1', ...dressing]);
  expect(refused.code).toBe(3);
  expect(refused.stdout).toMatch(
    /^refused, for one reason: do not heat\n {2}unknown-site, .*\n {4}why {2}.*U9.*\n {4}mend \w+/,
  );
  const asJson = await clear([...UNIT, '--station', 'HG-1', ...dressing, '--json']);
  expect(JSON.parse(asJson.stdout)).toMatchObject({ status: 409, reasons: [{ code: 'unknown-site' }] });
});

it('takes the request from a file, flags before it, and names the line of what is wrong', async () => {
  const request = { assembly: 'BRD-1', serial: 'S2', operator: 'op-1', station: 'HG-1', steps: [{ type: 'x' }] };
  await writeFile(join(folder, 'request.json'), JSON.stringify(request, null, 2));
  const unfit = await clear(['--file', 'request.json']);
  expect([unfit.code, unfit.stderr]).toEqual([
    2,
    expect.stringMatching(/^request\.json:8: \/steps\/0\/type must be one of/),
  ]);
  const granted = await clear(['--file', 'request.json', '--serial', 'S3', ...REMOVAL, '--ttl', '600', '--json']);
  expect(granted.code).toBe(0);
  expect(JSON.parse(granted.stdout)).toMatchObject({ assembly: 'BRD-1', serial: 'S3', state: 'granted' });
  expect((await clear(UNIT)).stderr).toContain('Say what is to be done');
});

it('says that no answer came, and by which key to learn what became of it', async () => {
  const silent = createServer(() => undefined);
  silent.listen(0, '127.0.0.1');
  await once(silent, 'listening');
  const { port } = silent.address() as AddressInfo;
  const url = `http://127.0.0.1:${String(port)}`;
  const unanswered = await clear([...UNIT, '--station', 'HG-1', ...REMOVAL, '--timeout', '1'], { url });
  silent.closeAllConnections();
  silent.close();
  expect([unanswered.code, unanswered.stdout]).toEqual([1, '']);
  expect(unanswered.stderr).toMatch(/did not answer in time/);
  const key = String(/--request-key (\S+)/.exec(unanswered.stderr)?.[1]);
  const again = [...UNIT, '--serial', 'S4', '--station', 'HG-1', ...REMOVAL, '--request-key', key, '--json'];
  const [first, second] = [await clear(again), await clear(again)];
  expect([first.code, JSON.parse(second.stdout)]).toEqual([0, JSON.parse(first.stdout)]);
});
