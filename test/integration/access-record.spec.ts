import { RunningHouse, runningHouse } from '../support/running-house.js';
import { events, received, SHOP } from '../support/small-shop.js';
import { SignedInPerson } from '../support/signed-in-person.js';
import { ALDER, BIRCH, enterTwoCustomers } from '../support/two-customers.js';

interface Line {
  readonly at: string;
  readonly kind: string;
  readonly caller: string | null;
  readonly roles: string[];
  readonly route: string | null;
  readonly subject: string | null;
  readonly outcome: string;
}

describe('the access record', () => {
  let house: RunningHouse;
  let auditor: SignedInPerson;

  const lines = async (query = ''): Promise<Line[]> => {
    const { status, body } = await auditor.call('GET', `/v1/access-records?limit=500&${query}`);
    expect(status).toBe(200);
    return body['items'] as Line[];
  };
  /** The newest line that fits, as soon as there is one: refusals are written a moment after they are answered. */
  const line = async (query: string, wanted: Partial<Line>): Promise<Line> => {
    for (;;) {
      const found = (await lines(query)).find((one) =>
        Object.entries(wanted).every(([member, value]) => one[member as keyof Line] === value),
      );
      if (found !== undefined) return found;
    }
  };

  beforeAll(async () => {
    house = await runningHouse();
    await enterTwoCustomers(house);
    auditor = await house.person('audrey', ['auditor']);
  }, 60_000);

  afterAll(() => house.close());

  it('has who was refused, by which route and about what', async () => {
    const customer = await house.person('alice', ['customer'], ALDER.customer);
    const since = new Date().toISOString();
    const foreign = `/v1/units/${BIRCH.assembly}/${BIRCH.serial}`;
    await house.call('GET', foreign, undefined, { key: null });
    await house.call('GET', foreign, undefined, { key: 'hbk_guessed' });
    await auditor.call('PUT', '/v1/parts/P-1', {});
    await customer.call('GET', foreign);
    const route = 'GET /v1/units/:assembly/:serial';
    const subject = `${BIRCH.assembly}/${BIRCH.serial}`;
    expect(await line(`from=${since}`, { caller: 'alice' })).toEqual({
      at: expect.any(String) as unknown,
      kind: 'refused',
      caller: 'alice',
      roles: ['customer'],
      route,
      subject,
      outcome: 'not-found',
    });
    expect(await line(`from=${since}`, { caller: 'audrey', outcome: 'not-allowed' })).toMatchObject({
      roles: ['auditor'],
      route: 'PUT /v1/parts/:part',
      subject: 'P-1',
    });
    const nobody = (await lines(`from=${since}`)).filter(({ caller }) => caller === null);
    expect(nobody).toHaveLength(2);
    expect(nobody[0]).toMatchObject({ outcome: 'key-required', route, subject, roles: [] });
    await customer.call('GET', `/v1/units/${ALDER.assembly}/${ALDER.serial}`);
    expect((await lines(`from=${since}&caller=alice`)).length).toBe(1);
  });

  it('has who asked for a name that cannot be kept, and whoever came after', async () => {
    await house.call('GET', '/v1/units/B/%00', undefined, { key: null });
    await house.call('GET', '/v1/units/B/AFTER', undefined, { key: null });
    expect(await line('', { subject: 'B/AFTER' })).toMatchObject({ outcome: 'key-required' });
    expect(await line('', { subject: 'B/\ufffd' })).toMatchObject({ outcome: 'key-required' });
  });

  it('has who signed in and out, who could not, and who was locked out', async () => {
    const person = await house.person('olga', ['operator']);
    await person.call('DELETE', '/v1/session');
    const signIn = (password: string) =>
      house.call('POST', '/v1/session', { name: 'olga', password }, { key: null }).then(({ status }) => status);
    const tried = [];
    for (let n = 0; n < 6; n += 1) tried.push(await signIn('wrong, and wrong again'));
    expect(tried).toContain(429);
    await line('caller=olga', { outcome: 'too-many-attempts' });
    const story = (await lines('caller=olga')).map(({ kind, outcome }) => `${kind} ${outcome}`).reverse();
    expect(story.slice(0, 3)).toEqual(['signed-in done', 'signed-out done', 'refused sign-in-failed']);
  });

  it('has keys that were issued and revoked, and accounts that were made or changed, before they can be used', async () => {
    const keys = `/v1/stations/${SHOP.bench}/keys`;
    const { body } = await house.call('POST', keys);
    expect((await lines('kind=key-issued'))[0]).toMatchObject({
      caller: 'admin',
      subject: SHOP.bench,
      outcome: 'done',
    });
    await house.call('DELETE', `${keys}/${String(body['keyId'])}`);
    expect((await lines('kind=key-revoked'))[0]).toMatchObject({ subject: `${SHOP.bench}/${String(body['keyId'])}` });
    await house.person('pia', ['operator']);
    expect((await lines('kind=account-changed'))[0]).toMatchObject({ caller: 'admin', subject: 'pia' });
    await house.call('PUT', '/v1/people/pia', { printedName: 'Pia', roles: ['quality'] });
    expect((await lines('kind=account-changed'))[0]).toMatchObject({ route: 'PUT /v1/people/:name', subject: 'pia' });
  });

  it('has every setup change with its revision', async () => {
    await house.call('PUT', '/v1/operators/bob', { qualifications: [] });
    expect((await lines('kind=setup-changed'))[0]).toMatchObject({
      caller: 'admin',
      subject: 'operator bob',
      outcome: 'revision 1',
    });
    const before = (await lines('kind=setup-changed')).length;
    await house.call('PUT', '/v1/operators/bob', { qualifications: [] });
    expect(await lines('kind=setup-changed')).toHaveLength(before);
  });

  it('has a batch in which a station spoke for another', async () => {
    await house.call('PUT', '/v1/stations/BENCH-9', { kind: 'hot-gas rework' });
    const { body } = await house.call('POST', '/v1/stations/BENCH-9/keys');
    const answer = await house.post(events('S-9', [received()]), String(body['key']));
    expect([answer.status, answer.body['rejected']]).toEqual([202, 1]);
    expect(await line('caller=BENCH-9', { outcome: 'foreign-source' })).toMatchObject({ route: 'POST /v1/events' });
  });

  it('holds no key, no password and no body', async () => {
    const { body } = await house.call('POST', '/v1/stations/BENCH-9/keys');
    await house.call('GET', '/v1/units?serial=looked-for', undefined, { key: 'hbk_a-key-that-was-guessed' });
    await house.call('POST', '/v1/session', { name: 'a name, no account', password: 'sesame, open' }, { key: null });
    await line('', { outcome: 'key-required', route: 'GET /v1/units' });
    const all = JSON.stringify(await lines());
    expect(all).not.toMatch(/hbk_|sesame|looked-for|the password of|a name, no account|wrong again/);
    expect(all).not.toContain(String(body['key']));
  });

  it('is paged newest first, and is narrowed down by time', async () => {
    const { body } = await auditor.call('GET', '/v1/access-records?limit=3');
    const first = body['items'] as Line[];
    const next = await auditor.call('GET', `/v1/access-records?limit=3&cursor=${String(body['nextCursor'])}`);
    const times = [...first, ...(next.body['items'] as Line[])].map(({ at }) => at);
    expect(times).toHaveLength(6);
    expect(times).toEqual(times.toSorted().reverse());
    expect(await lines('from=2020-01-01T00:00:00Z&to=2021-01-01T00:00:00Z')).toEqual([]);
    expect((await auditor.call('GET', '/v1/access-records?kind=seen')).status).toBe(422);
  });
});
