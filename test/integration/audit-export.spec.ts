import { once } from 'node:events';
import { get, IncomingMessage } from 'node:http';
import pg from 'pg';
import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { verifyAudit } from '../../libs/evidence/verify/verify-audit.js';
import { LogEvidence } from '../../libs/ledger/log/log-evidence.js';
import { lengthenLedger } from '../support/long-ledger.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { enterShop, events, ordinaryJob, SHOP } from '../support/small-shop.js';

/** Some 16 MB: more than a connection holds for a reader who does not read. */
const MANY_ENTRIES = 4_000;
const NOTE_LENGTH = 4_000;

interface Audit {
  readonly count: number;
  readonly headHash: string;
  readonly devices: { device: string; headHash: string; count: number }[];
  readonly log: LogEvidence;
  readonly statement: string | null;
}

describe('an export from Postgres', () => {
  let shop: RunningHouse;
  let book: pg.Client;

  const headers = (): Record<string, string> => ({ authorization: `Bearer ${shop.adminKey}` });
  const pathOf = (serial: string, query = ''): string => `/v1/units/${SHOP.assembly}/${serial}/audit${query}`;
  const fileOf = async (serial: string, query?: string): Promise<string> => {
    const answer = await fetch(`${shop.url}${pathOf(serial, query)}`, { headers: headers() });
    expect(answer.status).toBe(200);
    return answer.text();
  };
  const sizeOf = ({ checkpoint }: LogEvidence): number => Number(checkpoint.split('\n')[1]);

  /** As somebody would who has the database and is not bound by its triggers. */
  async function tamper(statement: string, values: unknown[]): Promise<void> {
    await book.query('SET session_replication_role = replica');
    await book.query(statement, values);
  }

  beforeAll(async () => {
    shop = await runningHouse();
    book = new pg.Client({ connectionString: shop.databaseUrl });
    await book.connect();
    await enterShop(shop);
    await shop.post(events('1', ordinaryJob('D-1')));
    await shop.post(events('2', ordinaryJob('D-2')));
  });

  afterAll(async () => {
    await book.end();
    await shop.close();
  });

  it('holds, with each of its ledgers under a signed checkpoint, and signed itself', async () => {
    const file = await fileOf('1');
    const audit = JSON.parse(file) as Audit;
    expect(audit.devices.map(({ device }) => device)).toContain('D-1');
    expect(audit.log.inclusion.map(({ subject, seq, hash }) => [subject, seq, hash]).sort()).toEqual(
      [
        [`${SHOP.assembly}/1`, audit.count, audit.headHash],
        ...audit.devices.map(({ device, count, headHash }) => [`devices/${device}`, count, headHash]),
      ].sort(),
    );
    expect(audit.statement).not.toBeNull();
    expect(await verifyAudit(file, nodeDigests)).toMatchObject({ holds: true, findings: [] });
  });

  it('proves that the log goes on from checkpoints that were kept', async () => {
    const before = JSON.parse(await fileOf('1')) as Audit;
    await shop.post(events('3', ordinaryJob('D-3')));
    const after = JSON.parse(await fileOf('3', `?since=1&since=${sizeOf(before.log)}`)) as Audit;
    expect(sizeOf(after.log)).toBeGreaterThan(sizeOf(before.log));
    const to = sizeOf(after.log);
    expect(after.log.consistency.map(({ from, to: end }) => [from, end])).toEqual([
      [1, to],
      [sizeOf(before.log), to],
    ]);
  });

  it('is to be had of a unit whose every event was struck', async () => {
    await shop.post(events('5', [{ type: 'heatbook.unit.received.v1', data: { priorReflows: 1 } }]));
    const quality = await shop.person('q-7', ['quality']);
    const struck = {
      event: { source: `/stations/${SHOP.bench}`, id: '5-0' },
      note: 'the label of another board was read',
      signature: quality.signature('this was not so'),
    };
    expect(await quality.call('POST', '/v1/annulments', struck)).toMatchObject({ status: 201 });
    const file = await fileOf('5');
    expect(await verifyAudit(file, nodeDigests)).toMatchObject({ holds: true, findings: [] });
    expect(JSON.parse(file)).toMatchObject({ unit: { state: 'expected', received: false, sites: [] } });
    const path = `/v1/units/${SHOP.assembly}/5/audit`;
    const own = await shop.person('c-own', ['customer'], 'Thimblewick');
    expect(await own.call('GET', path)).toMatchObject({ status: 200 });
    const foreign = await shop.person('c-foreign', ['customer'], 'Somebody');
    expect(await foreign.call('GET', path)).toMatchObject({ status: 404 });
  });

  it('says before the first byte that a ledger does not hold together', async () => {
    await tamper(`DELETE FROM ledger_entry WHERE subject = $1 AND seq = 3`, [`${SHOP.assembly}/2`]);
    for (const format of ['json', 'csv']) {
      const { status, body } = await shop.call('GET', pathOf('2', `?format=${format}`));
      expect([status, body['type']]).toEqual([500, 'urn:heatbook:problem:ledger-broken']);
      expect(body['detail']).toContain('no entry follows entry 2');
    }
  });

  it('is cut, and has no seal, where the ledger loses its end while it is being written', async () => {
    await shop.post(events('4', ordinaryJob('D-4')));
    await lengthenLedger(shop.house, { ...SHOP, serial: '4' }, MANY_ENTRIES, NOTE_LENGTH);
    const request = get(`${shop.url}${pathOf('4')}`, { headers: headers() });
    const [response] = (await once(request, 'response')) as [IncomingMessage];
    await once(response, 'readable');
    await tamper(`DELETE FROM ledger_entry WHERE subject = $1 AND seq > $2`, [`${SHOP.assembly}/4`, MANY_ENTRIES]);
    let got = '';
    response.setEncoding('utf8').on('data', (part: string) => (got += part));
    await expect(once(response, 'end')).rejects.toThrow('aborted');
    expect(got.length).toBeGreaterThan(1_000_000);
    expect(got).not.toContain('"seal":');
    expect(await verifyAudit(got, nodeDigests)).toMatchObject({ holds: false, findings: [{ code: 'file-cut' }] });
  });
});
