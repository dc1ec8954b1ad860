import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { enterSampleSetup } from '../../apps/api/spec-support/sample-setup.js';
import { ADMIN_KEY, SpecApi, startApi } from '../../apps/api/spec-support/start-api.js';
import { EndedCommand, runHeatbook } from '../support/run-heatbook.js';

const MAP = `
station: HG-1
timeZone: UTC
events:
  - type: site.cleaned
    subject: BRD-1/{Serial}
    time: { column: When }
    data: { refdes: "{Site}", agent: solvent }
`;
const LOG = 'When,Serial,Site\n2030-01-07 08:00,S1,U1\n2030-01-07 07:00,S2,U2\n';

let folder: string;
let api: SpecApi;

beforeEach(async () => {
  [folder, api] = [await mkdtemp(join(tmpdir(), 'heatbook-import-')), await startApi()];
  await enterSampleSetup(api);
  await writeFile(join(folder, 'map.yaml'), MAP);
});

afterEach(async () => {
  await api.close();
  await rm(folder, { recursive: true, force: true });
});

async function importLog(log: string | Buffer, ...options: string[]): Promise<EndedCommand> {
  await writeFile(join(folder, 'log.csv'), log);
  return runHeatbook(['import', 'log.csv', '--map', 'map.yaml', ...options], {
    url: api.url,
    key: ADMIN_KEY,
    cwd: folder,
  });
}

async function entriesOf(serial: string): Promise<unknown> {
  await api.fold();
  const { body } = await api.ask('GET', `/v1/units/BRD-1/${serial}/ledger`);
  return typeof body === 'object' && body !== null && 'items' in body ? body.items : [];
}

it('puts each row into the book once, however often it is imported', async () => {
  const dry = await importLog(LOG, '--dry-run');
  expect(dry).toEqual({ code: 0, stdout: '2 events fit to be sent; nothing was sent (dry run)\n', stderr: '' });
  expect((await importLog(LOG)).stdout).toBe('2 events accepted\n');
  expect(await entriesOf('S1')).toHaveLength(1);
  const again = await importLog(`${LOG}2030-01-08 08:00,S1,U1\n`);
  expect(again).toMatchObject({ code: 0, stdout: '2 events in the book already, 1 event accepted\n' });
  expect(await entriesOf('S1')).toHaveLength(2);
});

it('sends nothing of a log with a row that cannot be taken, unless it is told to', async () => {
  const log = `${LOG}8 o'clock,S1,U1\n`;
  const held = await importLog(log, '--report', 'rows.csv');
  expect(held).toMatchObject({
    code: 3,
    stdout: '2 events withheld until the rest is mended (--partial sends them), 1 fault in rows\n',
  });
  expect(held.stderr).toContain('log.csv row 4, column When: "8 o\'clock" is no time of the form iso\n');
  expect(await readFile(join(folder, 'rows.csv'), 'utf8')).toMatch(
    /^row,state,.*\n2,withheld,\/stations\/HG-1,row-.*\n3,withheld,.*\n4,unfit,,,,,,When,/,
  );
  expect(await entriesOf('S1')).toEqual([]);
  const partly = await importLog(log, '--partial', '--json');
  expect(partly.code).toBe(3);
  expect(JSON.parse(partly.stdout)).toMatchObject({ counts: { accepted: 2, unfit: 1 }, troubles: [{ row: 4 }] });
  expect(await entriesOf('S1')).toHaveLength(1);
});

it('tells what the service rejects by its row: a row that was changed under its own name', async () => {
  await writeFile(join(folder, 'map.yaml'), `id: "{Serial}"\n${MAP}`);
  await importLog(LOG);
  const { code, stderr, stdout } = await importLog(LOG.replace('S2,U2', 'S2,U1'));
  expect([code, stdout]).toEqual([3, '1 event in the book already, 1 event rejected\n']);
  expect(stderr).toMatch(/log\.csv row 3, heatbook\.site\.cleaned\.v1: 409: /);
});

it('warns of what the setup does not have', async () => {
  const { code, stderr } = await importLog(`${LOG}2030-01-07 09:00,S3,U9\n`, '--dry-run');
  expect(code).toBe(0);
  expect(stderr).toMatch(/^warning: site U9 of assembly BRD-1 is not in the setup \(rows 4\)/);
});

it('says what to do about a file in another encoding, and about no file', async () => {
  const latin = Buffer.from(LOG.replace('S1', 'S1é'), 'latin1');
  expect(await importLog(latin)).toMatchObject({
    code: 2,
    stderr: expect.stringContaining('encoding: windows-1252') as string,
  });
  const none = await runHeatbook(['import', 'none.csv', '--map', 'map.yaml'], { url: api.url, cwd: folder });
  expect(none).toMatchObject({ code: 2, stderr: 'none.csv cannot be read (ENOENT).\n' });
});

it('says how far it came where the service goes away, and ends with another code where it was mistyped', async () => {
  await importLog(LOG);
  const place = { url: api.url, key: 'hbk_not-a-key-of-this-house', cwd: folder };
  const refused = await runHeatbook(['import', 'log.csv', '--map', 'map.yaml'], place);
  expect([refused.code, refused.stderr]).toEqual([1, expect.stringContaining('0 of 2 events were answered for')]);
  const mistyped = await runHeatbook(['import', 'log.csv'], place);
  expect([mistyped.code, mistyped.stderr]).toEqual([2, expect.stringContaining("required option '--map <file>'")]);
  expect((await runHeatbook(['import', '--help'], place)).code).toBe(0);
});
