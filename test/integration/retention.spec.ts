import pg from 'pg';
import { THE_HOUSE } from '../../libs/ledger/ports/customer-reads.js';

import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SignedInPerson } from '../support/signed-in-person.js';
import { ALDER, BIRCH, enterTwoCustomers } from '../support/two-customers.js';

const problem = (code: string) => ({ type: `urn:heatbook:problem:${code}` });
/** It was shipped. */
const UNIT = { assembly: ALDER.assembly, serial: ALDER.serial };

describe('retention and legal holds', () => {
  let house: RunningHouse;
  let quinn: SignedInPerson;
  let ada: SignedInPerson;
  let ben: SignedInPerson;

  beforeAll(async () => {
    house = await runningHouse();
    await enterTwoCustomers(house);
    quinn = await house.person('quinn', ['quality']);
    ada = await house.person('ada', ['approver']);
    ben = await house.person('ben', ['approver']);
  }, 60_000);

  afterAll(() => house.close());

  const customer = encodeURIComponent(ALDER.customer);
  const set = (who: SignedInPerson, scope: object, reference = 'matter 7') => {
    return who.call('POST', '/v1/legal-holds', { scope, reference, note: 'asked for', signature: who.signature() });
  };
  const lift = (who: SignedInPerson, id: unknown) =>
    who.call('POST', `/v1/legal-holds/${String(id)}/lift`, { note: 'over', signature: who.signature() });
  const due = async (query = ''): Promise<string[]> => {
    const { status, body } = await quinn.call('GET', `/v1/retentions/due?before=2200-01-01T00:00:00Z&${query}`);
    expect(status).toBe(200);
    return (body['items'] as (typeof UNIT)[]).map(({ assembly, serial }) => `${assembly}/${serial}`);
  };
  /** As the role that the service works under, on a connection of its own. */
  const asTheService = async (statement: string): Promise<void> => {
    const options = `-c role=heatbook_app -c heatbook.customer=${THE_HOUSE}`;
    const client = new pg.Client({ connectionString: house.databaseUrl, options });
    await client.connect();
    try {
      await client.query(statement);
    } finally {
      await client.end();
    }
  };

  it('keeps for ever what nobody has said otherwise of, and every revision of what was said', async () => {
    expect(await due()).toEqual([]);
    const first = await quinn.call('PUT', `/v1/retentions/${customer}`, { keepYears: 10, contract: 'frame order 3' });
    expect(first).toMatchObject({ status: 201, body: { name: ALDER.customer, revision: 1, keepYears: 10 } });
    expect(await due()).toEqual([`${UNIT.assembly}/${UNIT.serial}`]);
    const forEver = await quinn.call('PUT', `/v1/retentions/${customer}`, { contract: 'frame order 4' });
    expect(forEver).toMatchObject({ status: 200, body: { revision: 2 } });
    expect(await due()).toEqual([]);
    await quinn.call('PUT', `/v1/retentions/${customer}`, { keepYears: 7, contract: 'frame order 5' });
    const { body } = await quinn.call('GET', `/v1/retentions/${customer}/revisions`);
    expect((body['items'] as { contract: string }[]).map(({ contract }) => contract)).toEqual([
      ...['frame order 5', 'frame order 4', 'frame order 3'],
    ]);
  });

  it('counts from the shipment, by whole years, for the customer that was asked for', async () => {
    const { body } = await quinn.call('GET', `/v1/retentions/due?before=2200-01-01T00:00:00Z&customer=${customer}`);
    const [unit] = body['items'] as { leftAt: string; keptUntil: string; keepYears: number; customer: string }[];
    expect(unit).toMatchObject({ ...UNIT, state: 'shipped', customer: ALDER.customer, keepYears: 7 });
    expect(Number(unit?.keptUntil.slice(0, 4)) - Number(unit?.leftAt.slice(0, 4))).toBe(7);
    expect(unit?.keptUntil.slice(4)).toBe(unit?.leftAt.slice(4));
    expect((await quinn.call('GET', '/v1/retentions/due')).body['items']).toEqual([]);
    expect(await due(`customer=${BIRCH.customer}`)).toEqual([]);
  });

  it.each(['due', '*', '%20'])('takes no retention for %j, which is no customer', async (name) => {
    const answer = await quinn.call('PUT', `/v1/retentions/${name}`, { keepYears: 1, contract: 'x' });
    expect(answer.body).toMatchObject(problem('invalid-name'));
  });

  it.each([{ keepYears: 0 }, { keepYears: 1.5 }, { keepYears: 101 }, { keepYears: null }, { contract: ' ' }])(
    'takes no retention with %j',
    async (wrong) => {
      const body = { keepYears: 1, contract: 'x', ...wrong };
      expect((await quinn.call('PUT', `/v1/retentions/${customer}`, body)).status).toBe(422);
    },
  );

  it('holds what is under a legal hold, whatever it is over, until somebody else lifts it', async () => {
    const key = `${UNIT.assembly}/${UNIT.serial}`;
    for (const scope of [{ unit: UNIT }, { assembly: UNIT.assembly }, { customer: ALDER.customer }]) {
      const { status, body } = await set(ada, scope);
      expect(status).toBe(201);
      expect(body).toMatchObject({
        ...{ state: 'in-force', scope, reference: 'matter 7', note: 'asked for', lift: null },
        signature: { by: 'ada', printedName: 'ada in print', meaning: 'seen and decided' },
        signed: { act: 'set-legal-hold', scope, reference: 'matter 7', note: 'asked for' },
      });
      expect(await due()).toEqual([]);
      expect((await lift(ada, body['id'])).body).toMatchObject(problem('two-people-needed'));
      expect(await due()).toEqual([]);
      expect(await lift(ben, body['id'])).toMatchObject({
        status: 200,
        body: { state: 'lifted', lift: { note: 'over', signature: { by: 'ben', printedName: 'ben in print' } } },
      });
      expect(await due()).toEqual([key]);
      expect((await lift(ben, body['id'])).body).toMatchObject(problem('legal-hold-lifted'));
    }
    const lifted = await quinn.call('GET', '/v1/legal-holds?state=lifted&limit=2');
    expect(lifted.body['items']).toHaveLength(2);
    expect(lifted.body['nextCursor']).not.toBeNull();
    expect((await quinn.call('GET', '/v1/legal-holds?state=in-force')).body['items']).toEqual([]);
  });

  it('is lifted once of many at once', async () => {
    const { body } = await set(ada, { unit: UNIT });
    const cid = await house.person('cid', ['approver']);
    const lifts = await Promise.all([ben, cid, ben, cid].map((who) => lift(who, body['id'])));
    expect(lifts.map(({ status }) => status).sort()).toEqual([200, 409, 409, 409]);
  });

  it.each([
    [{ unit: { ...UNIT, serial: 'MISTYPED' } }, 404],
    [{ assembly: 'MISTYPED' }, 404],
    [{ customer: 'MISTYPED' }, 404],
    [{}, 422],
    [{ customer: ALDER.customer, assembly: UNIT.assembly }, 422],
  ])('is not set over %j', async (scope, status) => {
    expect((await set(ada, scope)).status).toBe(status);
  });

  it('shows a customer nothing of it', async () => {
    const alice = await house.person('alice', ['customer'], ALDER.customer);
    await set(ada, { unit: UNIT }, 'nobody is to know');
    const unit = `/v1/units/${UNIT.assembly}/${UNIT.serial}`;
    for (const path of [unit, `${unit}/ledger`, `${unit}/audit`, '/v1/units', '/v1/holds']) {
      const { status, body } = await alice.call('GET', path);
      expect(status).toBe(200);
      expect(JSON.stringify(body)).not.toMatch(/nobody is to know|legal/);
    }
    for (const path of ['/v1/legal-holds', '/v1/retentions', '/v1/retentions/due']) {
      expect((await alice.call('GET', path)).status).toBe(403);
    }
  });

  it.each([
    [`DELETE FROM legal_hold`, /permission denied/],
    [`TRUNCATE legal_hold`, /permission denied/],
    [`UPDATE legal_hold SET reference = 'x'`, /permission denied/],
    [`UPDATE legal_hold SET lifted_by = NULL, lifted_at = NULL, lift_act = NULL`, /only be lifted, once/],
    [
      `UPDATE legal_hold SET lifted_by = set_by, lifted_at = now(), lift_act = set_act WHERE lifted_at IS NULL`,
      /legal_hold_takes_two/,
    ],
    [
      `UPDATE legal_hold SET lifted_by = 'ben', lifted_at = now(), lift_act = set_act WHERE lifted_at IS NULL`,
      /legal_hold_is_signed/,
    ],
    [`DELETE FROM ledger_entry`, /permission denied/],
  ])('cannot be got round by the service itself: %s', async (statement, refused) => {
    await expect(asTheService(statement)).rejects.toThrow(refused);
  });
});
