import pg from 'pg';
import { DataSource } from 'typeorm';
import { OpenTheBook1764000000000 } from '../../migrations/1764000000000-open-the-book.js';
import { WorkTheHolds1764300000000 } from '../../migrations/1764300000000-work-the-holds.js';
import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { verifyAudit } from '../../libs/evidence/verify/verify-audit.js';
import { freshDatabase } from '../support/fresh-database.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SignedInPerson } from '../support/signed-in-person.js';
import { enterShop, events, received, removed, SHOP } from '../support/small-shop.js';

describe('the hold desk on Postgres', () => {
  let shop: RunningHouse;
  let quinn: SignedInPerson;
  let rita: SignedInPerson;
  let ada: SignedInPerson;

  beforeAll(async () => {
    shop = await runningHouse();
    await enterShop(shop);
    quinn = await shop.person('quinn', ['quality']);
    rita = await shop.person('rita', ['quality']);
    ada = await shop.person('ada', ['approver']);
  });

  afterAll(() => shop.close());

  const raise = async (parts: object): Promise<string> => {
    const { status, body } = await shop.call('POST', '/v1/holds', { ...parts, note: 'Looks wrong.' });
    expect(status).toBe(201);
    return String(body['id']);
  };
  const dispose = (who: SignedInPerson, id: string, decision: string) =>
    who.call('POST', `/v1/holds/${id}/dispositions`, { decision, note: 'Looked.', signature: who.signature() });
  const release = (who: SignedInPerson, id: string) =>
    who.call('POST', `/v1/holds/${id}/release`, { note: 'Done.', signature: who.signature() });

  it('releases once, loses no decision and no comment, and the audit still holds', async () => {
    await shop.post(events('H1', [received()]));
    const id = await raise({ assembly: SHOP.assembly, serial: 'H1' });
    const acts = await Promise.all([
      ...[quinn, rita, ada, quinn].map((who) => dispose(who, id, 'rework')),
      ...Array.from({ length: 12 }, (_, n) =>
        rita.call('POST', `/v1/holds/${id}/comments`, { text: `no ${String(n)}` }),
      ),
    ]);
    expect(acts.map(({ status }) => status)).toEqual(acts.map(() => 201));
    const { body } = await quinn.call('GET', `/v1/holds/${id}`);
    expect([body['dispositions'], body['comments']].map((list) => (list as unknown[]).length)).toEqual([4, 12]);
    const last = (body['dispositions'] as { signature: { by: string } }[]).at(-1)?.signature.by;
    const others = [quinn, rita, ada].filter(({ name }) => name !== last);
    const releases = await Promise.all(others.map((who) => release(who, id)));
    expect(releases.map(({ status }) => status).sort()).toEqual([200, 409]);
    const audit = await quinn.call('GET', `/v1/units/${SHOP.assembly}/H1/audit`);
    expect(await verifyAudit(JSON.stringify(audit.body), nodeDigests)).toMatchObject({ holds: true });
    expect(JSON.stringify(audit.body)).toContain('heatbook.hold.disposed.v1');
    expect(JSON.stringify(audit.body)).not.toContain('no 11');
  });

  it.each([
    [{ station: SHOP.bench }, `stations/${SHOP.bench}`],
    [{ operator: 'ann' }, '#operators/ann'],
    [{ profile: { name: SHOP.profile, revision: 'A' } }, `#profiles/${SHOP.profile}@A`],
  ])('keeps a ledger of the holds on %j', async (parts, ledger) => {
    const id = await raise(parts);
    await dispose(quinn, id, 'use-as-is');
    expect((await release(ada, id)).status).toBe(200);
    const entries = await shop.house.reads.ledger(ledger, { limit: 10, order: 'asc', afterSeq: null });
    expect(entries.map(({ seq, type }) => [seq, type])).toEqual([
      [1, 'heatbook.hold.raised.v1'],
      [2, 'heatbook.hold.disposed.v1'],
      [3, 'heatbook.hold.released.v1'],
    ]);
  });

  it('signs a concession once of many at once, for what comes after it', async () => {
    await shop.post(events('H2', [received({ sites: [{ refdes: 'U7', priorReworks: 3 }] })]));
    const ask = () =>
      ada.call('POST', '/v1/concessions', {
        subject: { kind: 'site', assembly: SHOP.assembly, serial: 'H2', refdes: 'U7' },
        limit: 'site-reworks',
        allowed: 4,
        customerReference: 'TW-81',
        note: 'Once more.',
        signature: ada.signature(),
      });
    const answers = await Promise.all(Array.from({ length: 6 }, ask));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 422, 422, 422, 422, 422]);
    const after = events('H2', [{ ...removed(), id: 'H2-after' }]).map((event) => ({
      ...event,
      time: new Date(Date.now() + 1000).toISOString(),
    }));
    await shop.post(after);
    const { body } = await quinn.call('GET', `/v1/holds?serial=H2&reason=site-reworks`);
    expect(body['items']).toEqual([]);
    const ledger = await quinn.call('GET', `/v1/units/${SHOP.assembly}/H2/ledger?type=heatbook.concession.signed.v1`);
    expect(ledger.body['items']).toMatchObject([{ actor: { name: 'ada' }, effects: [{ kind: 'concession-signed' }] }]);
  });

  it('filters and sorts what it holds', async () => {
    const id = await raise({ operator: 'ann', assignee: 'rita', dueAt: '2020-01-01T00:00:00Z' });
    const { body } = await quinn.call('GET', '/v1/holds?overdue=true&assignee=rita&order=graveness&stage=assigned');
    expect(body['items']).toMatchObject([{ id, overdue: true, graveness: 3 }]);
    expect((await quinn.call('GET', '/v1/holds/summary')).body).toMatchObject({ overdue: 1, byAssignee: { rita: 1 } });
  });
});

describe('releases from before there were signatures', () => {
  it('stay, and say that nobody signed them', async () => {
    const database = await freshDatabase();
    const client = new pg.Client({ connectionString: database.url });
    const source = new DataSource({ type: 'postgres', url: database.url });
    await Promise.all([client.connect(), source.initialize()]);
    try {
      const runner = source.createQueryRunner();
      await new OpenTheBook1764000000000().up(runner);
      await client.query(
        `INSERT INTO hold (id, state, reason, subject, stream, raised_at, causes, evidence, remedy, touched, cause_gone,
           release) VALUES (gen_random_uuid(), 'released', 'by-hand', '{}', 'X/1', now(), '[]', '{}', '', true, false,
           '{"by": "admin", "at": "2026-01-01T00:00:00.000Z", "note": "ok"}')`,
      );
      const migration = new WorkTheHolds1764300000000();
      await migration.up(runner);
      await client.query(`UPDATE hold SET customer = 'Northlight'`);
      const { rows } = await client.query<{ release: object }>(`SELECT release FROM hold`);
      expect(rows).toMatchObject([{ release: { by: 'admin', note: 'ok', signature: null, approved: false } }]);
      await migration.down(runner);
      await migration.up(runner);
      expect((await client.query(`SELECT FROM hold`)).rowCount).toBe(1);
      await runner.release();
    } finally {
      await Promise.all([client.end(), source.destroy()]);
      await database.drop();
    }
  });
});
