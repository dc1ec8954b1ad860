import { randomUUID } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { parseJws } from '../../libs/evidence/log/jws.js';
import { unzipped } from '../../libs/evidence/spec-support/archive-bench.js';
import { MOST_UNFINISHED } from '../../libs/ledger/archives/archive-bounds.js';
import { ArchiveRecord } from '../../libs/ledger/archives/archive-record.js';
import { sweepArchives } from '../../libs/ledger/archives/sweep-archives.js';
import { CensusData, CensusProof, LedgerPlace } from '../../libs/ledger/log/log-evidence.js';
import { censusGroupLeaf, censusLedgerLeaf } from '../../libs/ledger/log/census-tree.js';
import { rootFromInclusion } from '../../libs/ledger/log/merkle/check-proofs.js';
import { readerOf } from '../../libs/ledger/log/merkle/leaf-tree.js';
import { rootAt } from '../../libs/ledger/log/merkle/merkle-proofs.js';
import { toHex } from '../../libs/ledger/log/notes/hex.js';
import { sequenceLog } from '../../libs/ledger/log/sequence-log.js';
import { takeCensus } from '../../libs/ledger/log/take-census.js';
import { ProcessFamily } from '../support/process-family.js';
import { HttpAnswer } from '../support/http-answer.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SignedInPerson } from '../support/signed-in-person.js';
import { events, received, SHOP } from '../support/small-shop.js';
import { ALDER, BIRCH, enterTwoCustomers } from '../support/two-customers.js';

const PATIENCE_MS = 20_000;
const MORE = ['0101', '0102', '0103'];

interface Manifest {
  readonly units: readonly { assembly: string; serial: string; count: number; headHash: string; files: string[] }[];
  readonly missing: readonly object[];
}

interface CensusOfAssembly extends Pick<CensusProof, 'entry' | 'group' | 'groupIndex' | 'groupPath'> {
  readonly ledgers: readonly LedgerPlace[];
}

let house: RunningHouse;
let alder: SignedInPerson;
let birch: SignedInPerson;
let opal: SignedInPerson;
let quinn: SignedInPerson;

beforeAll(async () => {
  house = await runningHouse();
  await enterTwoCustomers(house);
  for (const serial of MORE) await house.post(events(serial, [received()]));
  alder = await house.person('alder-1', ['customer'], ALDER.customer);
  birch = await house.person('birch-1', ['customer'], BIRCH.customer);
  opal = await house.person('opal', ['operator']);
  quinn = await house.person('quinn', ['quality']);
}, 60_000);

afterAll(() => house.close());

async function ask(who: Pick<SignedInPerson, 'call'>, body: object): Promise<string> {
  const answer = await who.call('POST', '/v1/audits', body);
  expect([answer.status, answer.body]).toEqual([202, expect.objectContaining({ state: 'waiting', error: null })]);
  return String(answer.body['id']);
}

/** Waits until it has ended. */
async function ended(who: Pick<SignedInPerson, 'call'>, id: string): Promise<HttpAnswer['body']> {
  const deadline = performance.now() + PATIENCE_MS;
  for (;;) {
    const { body } = await who.call('GET', `/v1/audits/${id}`);
    if (!['waiting', 'running'].includes(String(body['state']))) return body;
    if (performance.now() > deadline) throw new Error(`the archive is still ${JSON.stringify(body)}`);
  }
}

function download(
  who: SignedInPerson | RunningHouse,
  id: string,
  headers: Record<string, string> = {},
): Promise<Response> {
  const own = 'headers' in who ? who.headers : { authorization: `Bearer ${who.adminKey}` };
  return fetch(`${house.url}/v1/audits/${id}/archive`, { headers: { ...own, ...headers } });
}

async function contents(who: SignedInPerson | RunningHouse, id: string): Promise<ReadonlyMap<string, Buffer>> {
  return unzipped(new Uint8Array(await (await download(who, id)).arrayBuffer()));
}

function manifestIn(files: ReadonlyMap<string, Buffer>): Manifest {
  return JSON.parse(String(files.get('manifest.json'))) as Manifest;
}

describe('an archive of an assembly', () => {
  it('is made by a job and downloaded, with the length and hash that were promised', async () => {
    const id = await ask(house, { assembly: ALDER.assembly, formats: ['csv', 'pdf', 'epcis'] });
    const told = await ended(house, id);
    expect(told).toMatchObject({
      ...{ state: 'done', wanted: 4, done: 4, missingCount: 0, missing: [], by: 'admin' },
      formats: ['csv', 'epcis', 'json', 'pdf'],
      ...{ customer: null, error: null },
    });
    const response = await download(house, id);
    const bytes = new Uint8Array(await response.arrayBuffer());
    expect(response.status).toBe(200);
    expect(response.headers.get('content-type')).toBe('application/zip');
    expect(response.headers.get('content-length')).toBe(String(bytes.length));
    expect(response.headers.get('etag')).toBe(`"${String(told['manifestHash'])}"`);
    expect(told['bytes']).toBe(bytes.length);
    const files = await unzipped(bytes);
    const { units } = manifestIn(files);
    expect(units.map(({ serial }) => serial)).toEqual([...MORE, ALDER.serial]);
    for (const { assembly, serial, headHash, count, files: names } of units) {
      const { body } = await house.call('GET', `/v1/units/${assembly}/${serial}`);
      expect(body['headHash']).toBe(headHash);
      const path = `units/${assembly}/${serial}`;
      expect(names).toEqual([`${path}.csv`, `${path}.epcis.json`, `${path}.audit.json`, `${path}.pdf`]);
      const [csv, epcis, audit, pdf] = names.map((name) => String(files.get(name)));
      expect(JSON.parse(audit ?? '')).toMatchObject({ format: 'heatbook-audit', assembly, serial, headHash, count });
      expect(JSON.parse(epcis ?? '')).toMatchObject({ type: 'EPCISDocument' });
      expect([csv?.includes(serial), pdf?.slice(0, 5)]).toEqual([true, '%PDF-']);
    }
  });

  it('goes on where a download broke off', async () => {
    const id = await ask(opal, { assembly: ALDER.assembly, serials: MORE });
    await ended(opal, id);
    const whole = Buffer.from(await (await download(opal, id)).arrayBuffer());
    const etag = (await download(opal, id)).headers.get('etag') ?? '';
    const rest = await download(opal, id, { range: 'bytes=1000-', 'if-range': etag });
    expect([rest.status, rest.headers.get('content-range')]).toEqual([
      206,
      `bytes 1000-${String(whole.length - 1)}/${String(whole.length)}`,
    ]);
    expect(Buffer.from(await rest.arrayBuffer()).equals(whole.subarray(1000))).toBe(true);
    const other = await download(opal, id, { range: 'bytes=1000-', 'if-range': '"other"' });
    expect([other.status, Buffer.from(await other.arrayBuffer()).equals(whole)]).toEqual([200, true]);
    const past = await download(opal, id, { range: `bytes=${String(whole.length)}-` });
    expect([past.status, past.headers.get('content-range')]).toEqual([416, `bytes */${String(whole.length)}`]);
    expect((await download(opal, id, { 'if-none-match': etag })).status).toBe(304);
  });
});

describe('what an archive proves', () => {
  it('is signed, stands under a checkpoint, and shows every unit that the newest census has', async () => {
    const { logDeps, signer } = house.house;
    const tomorrow = new Date(Date.now() + 2 * 86_400_000).toISOString();
    await takeCensus({ ...logDeps, clock: { now: () => tomorrow } });
    await sequenceLog(logDeps);
    const id = await ask(house, { assembly: ALDER.assembly, serials: [ALDER.serial] });
    expect(await ended(house, id)).toMatchObject({ state: 'done' });
    const files = await contents(house, id);
    expect([...files.keys()].slice(1)).toEqual([
      ...['README.txt', 'checkpoint.txt', 'census.json', 'manifest.json', 'manifest.jws'],
    ]);
    const jws = parseJws(String(files.get('manifest.jws')));
    expect(jws?.header.kid).toBe(signer?.vkey);
    expect(Buffer.from(jws?.payload ?? []).equals(files.get('manifest.json') ?? Buffer.of(0))).toBe(true);
    const { groups } = JSON.parse(String(files.get('census.json'))) as { groups: CensusOfAssembly[] };
    expect(groups.map(({ group }) => group.group)).toEqual([ALDER.assembly]);
    const [census] = groups;
    if (census === undefined) throw new Error('there is no census');
    expect(census.ledgers.map(({ subject }) => subject)).toEqual(
      [...MORE, ALDER.serial].map((serial) => `${ALDER.assembly}/${serial}`),
    );
    const hashing = { sha256: logDeps.sha256, canonical: (value: unknown) => logDeps.seal.canonical(value) };
    const leaves = census.ledgers.map((place) => censusLedgerLeaf(hashing, place));
    const root = await rootAt(hashing.sha256, readerOf(hashing.sha256, leaves), leaves.length);
    expect(toHex(root)).toBe(census.group.root);
    const said = census.entry.data as CensusData;
    const above = rootFromInclusion(hashing.sha256, {
      ...{ index: census.groupIndex, size: said.groups, leaf: censusGroupLeaf(hashing, census.group) },
      path: census.groupPath.map((hex) => Buffer.from(hex, 'hex')),
    });
    expect(toHex(above ?? new Uint8Array())).toBe(said.root);
  });
});

describe('heatbook archive', () => {
  const family = new ProcessFamily();
  afterAll(() => family.endAll());

  const heatbook = async (...args: string[]) => {
    const env = { HEATBOOK_URL: house.url, HEATBOOK_KEY: house.adminKey };
    const run = family.start('apps/cli/main.ts', env, ['archive', ...args]);
    return { code: await run.endsWithin(PATIENCE_MS), stderr: run.stderr() };
  };

  it('asks, waits, fetches and says what is missing', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'heatbook-cli-'));
    try {
      const file = join(folder, 'boards.zip');
      const whole = await heatbook(ALDER.assembly, ...MORE, '--format', 'csv', '-o', file);
      expect(whole).toMatchObject({ code: 0, stderr: expect.stringContaining('3 units') as string });
      expect(manifestIn(await unzipped(await readFile(file))).units).toHaveLength(3);
      const short = await heatbook(ALDER.assembly, 'NEVER-WAS', '-o', file);
      expect(short).toMatchObject({
        code: 3,
        stderr: expect.stringContaining('missing: TWO-SIDES/NEVER-WAS') as string,
      });
      const none = await heatbook('NO-BOARD', '-o', file);
      expect(none).toMatchObject({
        code: 1,
        stderr: expect.stringContaining('no unit of assembly NO-BOARD') as string,
      });
      expect(await readdir(folder)).toEqual(['boards.zip']);
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  });
});

describe('a customer', () => {
  it('gets what is theirs; what is another’s is missing like what never was', async () => {
    const units = [ALDER, BIRCH, { assembly: 'NO-BOARD', serial: '1' }].map(({ assembly, serial }) => ({
      assembly,
      serial,
    }));
    const id = await ask(alder, { units });
    const told = await ended(alder, id);
    const missing = [
      { assembly: 'NO-BOARD', serial: '1' },
      { assembly: BIRCH.assembly, serial: BIRCH.serial },
    ];
    expect(told).toMatchObject({ state: 'done', wanted: 3, missingCount: 2, missing, customer: ALDER.customer });
    const files = await contents(alder, id);
    expect(manifestIn(files)).toMatchObject({ units: [{ serial: ALDER.serial }], missing });
    const [audit] = [...files].filter(([name]) => name.endsWith('.audit.json'));
    expect(JSON.parse(String(audit?.[1]))).toMatchObject({ audience: { for: 'customer' }, devices: [] });
    const text = [...files.values()]
      .map(String)
      .join('\n')
      .replaceAll(`"${BIRCH.assembly}","serial":"${BIRCH.serial}"`, '');
    expect(text).not.toMatch(new RegExp([BIRCH.customer, BIRCH.serial, BIRCH.device].join('|')));
  });

  it('asks for all of an assembly only where there is something to see', async () => {
    const answer = await birch.call('POST', '/v1/audits', { assembly: ALDER.assembly });
    const unknown = await birch.call('POST', '/v1/audits', { assembly: 'NO-BOARD' });
    expect([answer.status, unknown.status]).toEqual([404, 404]);
    expect(String(answer.body['detail']).replace(ALDER.assembly, '')).toBe(
      String(unknown.body['detail']).replace('NO-BOARD', ''),
    );
  });

  it('sees their own archives alone, and an operator too, while quality sees all and removes none of them', async () => {
    const id = await ask(birch, { assembly: BIRCH.assembly });
    await ended(birch, id);
    for (const other of [alder, opal]) {
      for (const [method, path] of [
        ['GET', `/v1/audits/${id}`],
        ['GET', `/v1/audits/${id}/archive`],
        ['DELETE', `/v1/audits/${id}`],
      ] as const) {
        expect([path, (await other.call(method, path)).status]).toEqual([path, 404]);
      }
      expect(JSON.stringify((await other.call('GET', '/v1/audits')).body)).not.toContain(id);
    }
    expect(JSON.stringify((await quinn.call('GET', '/v1/audits')).body)).toContain(id);
    expect((await quinn.call('DELETE', `/v1/audits/${id}`)).status).toBe(403);
    expect((await birch.call('DELETE', `/v1/audits/${id}`)).status).toBe(204);
    expect((await birch.call('GET', `/v1/audits/${id}`)).status).toBe(404);
  });
});

describe('asking for an archive', () => {
  it.each<[string, object, string]>([
    ['nothing', {}, '/assembly'],
    ['serials of no assembly', { serials: ['1'] }, '/assembly'],
    ['both ways of naming', { units: [{ assembly: 'A', serial: '1' }], assembly: 'A' }, '/assembly'],
    ['serials beside units', { units: [{ assembly: 'A', serial: '1' }], serials: ['1'] }, '/serials'],
    ['no units', { units: [] }, '/units'],
    ['half a unit', { units: [{ assembly: 'A' }] }, '/units/0/serial'],
    ['no serials', { assembly: 'A', serials: [] }, '/serials'],
    ['a serial that is none', { assembly: 'A', serials: ['a/b'] }, '/serials'],
    ['too many serials', { assembly: 'A', serials: Array.from({ length: 10_001 }, (_, n) => String(n)) }, '/serials'],
    ['a format that is none', { assembly: 'A', formats: ['docx'] }, '/formats'],
    ['a checkpoint of nothing', { assembly: 'A', since: [0] }, '/since'],
    ['half a checkpoint', { assembly: 'A', since: [1.5] }, '/since'],
  ])('says what is wrong with %s', async (_what, body, pointer) => {
    const answer = await house.call('POST', '/v1/audits', body);
    expect([answer.status, answer.body['errors']]).toEqual([422, [expect.objectContaining({ pointer })]]);
  });

  it('is bounded for each principal, with a way out', async () => {
    const { archives } = house.house;
    // As if a worker were at them.
    const stuck = Array.from({ length: MOST_UNFINISHED }, () => running('quinn'));
    for (const record of stuck) expect(await archives.add(record, [], ROOMY)).toBe('added');
    const [{ id } = running('nobody')] = stuck;
    const refused = await quinn.call('POST', '/v1/audits', { assembly: ALDER.assembly });
    expect([refused.status, refused.headers.get('retry-after')]).toEqual([429, '60']);
    expect(refused.body['detail']).toContain('DELETE /v1/audits/');
    const early = await quinn.call('GET', `/v1/audits/${id}/archive`);
    expect([early.status, early.body['detail']]).toEqual([409, expect.stringContaining('0 of 7 units')]);
    expect((await quinn.call('DELETE', `/v1/audits/${id}`)).status).toBe(204);
    expect((await quinn.call('GET', `/v1/audits/${id}`)).body['state']).toBe('cancelled');
    await ended(quinn, await ask(quinn, { assembly: ALDER.assembly }));
    for (const record of stuck) await archives.remove(record.id);
  });
});

const ROOMY = { unfinished: 9, kept: 99, bytes: 2 ** 40 };

function running(name: string): ArchiveRecord {
  const now = new Date().toISOString();
  return {
    ...{ id: randomUUID(), owner: { name, via: 'session', customer: null }, formats: ['json'], since: [] },
    ...{
      state: 'running',
      wanted: 7,
      done: 0,
      missing: 0,
      entries: 0,
      parts: 0,
      contentBytes: 0,
      bytes: 0,
      attempts: 0,
    },
    ...{ manifestHash: null, failure: null, requestedAt: now, seenAt: now, finishedAt: null, expiresAt: null },
  };
}

describe('a unit whose every event was annulled', () => {
  it('is not called missing, as if it had vanished', async () => {
    await house.post(events('STRUCK-1', [received()]));
    const event = { source: `/stations/${SHOP.bench}`, id: 'STRUCK-1-0' };
    const struck = { event, note: 'another board', signature: quinn.signature('struck') };
    expect((await quinn.call('POST', '/v1/annulments', struck)).status).toBe(201);
    const id = await ask(house, { assembly: ALDER.assembly, serials: ['STRUCK-1'] });
    const told = await ended(house, id);
    expect(told).toMatchObject({ state: 'done', done: 1, missing: [] });
  });
});

describe('an archive that has expired', () => {
  it('is gone, with its bytes', async () => {
    const id = await ask(house, { assembly: ALDER.assembly, serials: [ALDER.serial] });
    await ended(house, id);
    const { archives } = house.house;
    const later = new Date(Date.now() + 8 * 86_400_000).toISOString();
    await sweepArchives({ archives, clock: { now: () => later } }, () => false);
    expect((await house.call('GET', `/v1/audits/${id}`)).status).toBe(404);
    expect((await house.call('GET', `/v1/audits/${id}/archive`)).status).toBe(404);
    expect([await archives.parts(id, 0, 10), await archives.chunk(id, 0, 0)]).toEqual([[], undefined]);
  });
});

describe('a ledger that does not hold together', () => {
  it('fails the archive by name rather than leaving the unit out', async () => {
    const broken = 'CUT-1';
    await house.post(events(broken, [received(), received({ workOrder: 'WO-2' })]));
    const client = new pg.Client({ connectionString: house.databaseUrl });
    await client.connect();
    try {
      await client.query(`SET heatbook.customer = '*'; SET session_replication_role = replica`);
      await client.query(`DELETE FROM ledger_entry WHERE subject = $1 AND seq > 1`, [`${ALDER.assembly}/${broken}`]);
    } finally {
      await client.end();
    }
    const id = await ask(house, { assembly: ALDER.assembly, serials: [MORE[0], broken] });
    const told = await ended(house, id);
    expect(told).toMatchObject({ state: 'failed', done: 1 });
    expect(told['error']).toMatch(new RegExp(`^${ALDER.assembly}/${broken}: .*does not hold together`));
    const answer = await house.call('GET', `/v1/audits/${id}/archive`);
    expect([answer.status, answer.body['detail']]).toEqual([409, expect.stringContaining(broken)]);
  });
});
