import pg from 'pg';
import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { verifyAudit } from '../../libs/evidence/verify/verify-audit.js';
import { pseudonymOf } from '../../libs/ledger/signing/pseudonym.js';
import { THE_HOUSE } from '../../libs/ledger/ports/customer-reads.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SignedInPerson } from '../support/signed-in-person.js';
import { enterShop, events, received, SHOP } from '../support/small-shop.js';

interface Exported {
  readonly headHash: string;
  readonly entries: readonly {
    readonly type: string;
    readonly data: { readonly signature?: { readonly named: string } };
  }[];
  readonly people: readonly {
    readonly commitment: string;
    readonly name: string;
    readonly printedName: string | null;
  }[];
}

const UNIT = `/v1/units/${SHOP.assembly}/E1`;
const RENAMED = 'Quinn Under-Hill';

describe('erasing a person', () => {
  let house: RunningHouse;
  let quinn: SignedInPerson;
  let rita: SignedInPerson;
  let chief: SignedInPerson;
  let hold = '';

  beforeAll(async () => {
    house = await runningHouse();
    await enterShop(house);
    quinn = await house.person('quinn', ['quality']);
    rita = await house.person('rita', ['quality']);
    chief = await house.person('chief', ['admin']);
    await house.post(events('E1', [received()]));
    const raised = await quinn.call('POST', '/v1/holds', {
      assembly: SHOP.assembly,
      serial: 'E1',
      note: 'Looks wrong.',
    });
    hold = String(raised.body['id']);
    await decide();
    await house.call('PUT', '/v1/people/quinn', { printedName: RENAMED, roles: ['quality'] });
    await decide();
    await rita.call('POST', `/v1/holds/${hold}/release`, { note: 'Done.', signature: rita.signature() });
  }, 60_000);

  afterAll(() => house.close());

  const decide = () => {
    const body = { decision: 'rework', note: 'Looked.', signature: quinn.signature() };
    return quinn.call('POST', `/v1/holds/${hold}/dispositions`, body);
  };
  const erase = (who: SignedInPerson, name: string, note = 'asked for by the person') =>
    who.call('POST', `/v1/people/${name}/erasure`, { note, signature: who.signature('checked who asks') });
  const exported = async (): Promise<Exported> => {
    const { body } = await rita.call('GET', `${UNIT}/audit`);
    const text = JSON.stringify(body);
    const report = await verifyAudit(text, nodeDigests);
    expect({ holds: report.holds, findings: report.findings }).toEqual({ holds: true, findings: [] });
    return JSON.parse(text) as Exported;
  };
  /** Every value of every column of every table that has one of these texts in it, as `table.column`. */
  const placesOf = async (texts: readonly string[]): Promise<string[]> => {
    const client = new pg.Client({ connectionString: house.databaseUrl, options: `-c heatbook.customer=${THE_HOUSE}` });
    await client.connect();
    try {
      const { rows } = await client.query<{ table: string; column: string }>(
        `SELECT format('%I.%I', table_schema, table_name) AS table, column_name AS column
         FROM information_schema.columns JOIN information_schema.tables USING (table_schema, table_name)
         WHERE table_type = 'BASE TABLE' AND table_schema NOT IN ('pg_catalog', 'information_schema')`,
      );
      const found: string[] = [];
      for (const { table, column } of rows) {
        const { rows: hits } = await client.query<{ hits: number }>(
          `SELECT count(*)::integer AS hits FROM ${table} t, unnest($1::text[]) x (sought)
           WHERE position(x.sought IN t."${column}"::text) > 0`,
          [texts],
        );
        if ((hits[0]?.hits ?? 0) > 0) found.push(`${table}.${column}`);
      }
      return found;
    } finally {
      await client.end();
    }
  };

  it('takes the name out of every table and every answer, and the chain, seal and signatures hold as before', async () => {
    const before = await exported();
    const own = before.people.filter(({ name }) => name === 'quinn');
    expect(own.map(({ printedName }) => printedName).sort()).toEqual([RENAMED, 'quinn in print']);
    const names = ['quinn in print', RENAMED];
    // There is one place where a name is, and the search finds it there.
    expect(await placesOf(names)).toEqual(['public.person_name.printed_name']);
    expect((await rita.call('GET', `/v1/holds/${hold}`)).body).toMatchObject({
      dispositions: [{ signature: { printedName: 'quinn in print' } }, { signature: { printedName: RENAMED } }],
      entries: expect.arrayContaining([expect.objectContaining({ signer: expect.anything() as unknown })]) as unknown,
    });

    const { status, body } = await erase(chief, 'quinn');
    const newest = own.find(({ printedName }) => printedName === RENAMED)?.commitment ?? '';
    expect(status).toBe(200);
    expect(body).toEqual({
      person: expect.objectContaining({
        ...{ name: 'quinn', printedName: pseudonymOf(newest), erased: true, disabled: true },
      }) as unknown,
      signedInClear: 0,
    });

    expect(await placesOf(names)).toEqual([]);
    const after = await exported();
    expect([after.headHash, after.entries]).toEqual([before.headHash, before.entries]);
    const gone = after.people.filter(({ name }) => name === 'quinn');
    expect(gone).toEqual(own.map(({ commitment }) => ({ commitment, name: 'quinn', printedName: null, salt: null })));
    const shown = await rita.call('GET', `/v1/holds/${hold}`);
    const pseudonyms = before.entries.flatMap(({ type, data }) =>
      type === 'heatbook.hold.disposed.v1' ? [pseudonymOf(data.signature?.named ?? '')] : [],
    );
    expect(shown.body).toMatchObject({
      dispositions: pseudonyms.map((printedName) => ({ signature: { by: 'quinn', printedName, erased: true } })),
    });
    const ledger = await rita.call('GET', `${UNIT}/ledger?type=heatbook.hold.released.v1`);
    expect(ledger.body).toMatchObject({ items: [{ signer: { printedName: 'rita in print' } }] });
    for (const path of [`/v1/holds/${hold}`, '/v1/people', '/v1/people/quinn/changes', `${UNIT}/ledger`, UNIT]) {
      expect(JSON.stringify((await rita.call('GET', path)).body)).not.toMatch(/quinn in print|Under-Hill/);
    }
  });

  it('leaves what was exported before as it was: it still holds, with the name', async () => {
    const bea = await house.person('bea', ['quality']);
    await house.post(events('E2', [received()]));
    const held = await bea.call('POST', '/v1/holds', { assembly: SHOP.assembly, serial: 'E2', note: 'Looks wrong.' });
    const decision = { decision: 'rework', note: 'Looked.', signature: bea.signature() };
    await bea.call('POST', `/v1/holds/${String(held.body['id'])}/dispositions`, decision);
    const text = JSON.stringify((await rita.call('GET', `/v1/units/${SHOP.assembly}/E2/audit`)).body);
    await erase(chief, 'bea');
    expect(text).toContain('bea in print');
    expect(await verifyAudit(text, nodeDigests)).toMatchObject({ holds: true });
  });

  it('ends the sessions, keeps the account shut for good, and is on record with who signed for it', async () => {
    const tom = await house.person('tom', ['operator']);
    expect((await erase(chief, 'tom', 'left the house')).status).toBe(200);
    expect((await tom.call('GET', '/v1/units')).status).toBe(401);
    const again = await house.call('POST', '/v1/session', { name: 'tom', password: tom.password }, { key: null });
    expect(again.status).toBe(401);
    const account = { printedName: 'Tom Again', roles: ['operator'] };
    expect((await house.call('PUT', '/v1/people/tom', account)).body).toMatchObject({
      type: 'urn:heatbook:problem:person-erased',
    });
    const password = await house.call('POST', '/v1/people/tom/password', { password: 'a new long password' });
    expect(password.body).toMatchObject({ type: 'urn:heatbook:problem:person-erased' });
    const { body } = await chief.call('GET', '/v1/people/tom/changes');
    const [created, erased] = body['items'] as Record<string, unknown>[];
    expect(created).toMatchObject({ what: 'created', account: { erased: true } });
    expect(erased).toMatchObject({
      ...{ what: 'erased', by: 'chief', account: { disabled: true, erased: true } },
      act: {
        note: 'left the house',
        signed: { act: 'erase-person', person: 'tom', by: 'chief', meaning: 'checked who asks' },
        signature: { by: 'chief', printedName: 'chief in print' },
      },
    });
    const auditor = await house.person('aud', ['auditor']);
    const records = await auditor.call('GET', '/v1/access-records?kind=account-changed&caller=chief');
    expect(records.body['items']).toContainEqual(
      expect.objectContaining({ route: 'POST /v1/people/:name/erasure', subject: 'tom', outcome: 'done' }),
    );
  });

  it('is refused for oneself and without a password, and changes nothing when asked for again', async () => {
    expect((await erase(chief, 'chief')).body).toMatchObject({ type: 'urn:heatbook:problem:own-account' });
    expect((await erase(chief, 'nobody')).status).toBe(404);
    expect((await erase(chief, 'admin')).body).toMatchObject({ type: 'urn:heatbook:problem:account-needed' });
    const wrong = { note: 'x', signature: { password: 'not the password', meaning: 'm' } };
    expect((await chief.call('POST', '/v1/people/rita/erasure', wrong)).status).toBe(403);
    const signature = { password: 'any password', meaning: 'm' };
    expect((await house.call('POST', '/v1/people/rita/erasure', { note: 'x', signature })).body).toMatchObject({
      type: 'urn:heatbook:problem:signature-required',
    });
    await house.person('uma', ['operator']);
    const once = await erase(chief, 'uma');
    const twice = await erase(chief, 'uma', 'once more');
    expect([twice.status, twice.body]).toEqual([200, once.body]);
    const { body } = await chief.call('GET', '/v1/people/uma/changes');
    expect(body['items']).toHaveLength(2);
  });
});
