import { seal } from '../../../libs/evidence/seal.js';
import { signInPerson, SignedInPerson } from '../../../test/support/signed-in-person.js';
import { anyText, problem, textLike } from '../spec-support/matchers.js';
import { enterSampleSetup, removalEvent, sampleEvent } from '../spec-support/sample-setup.js';
import { ADMIN_KEY, SpecApi, startApi } from '../spec-support/start-api.js';

interface Listed {
  readonly items: readonly { readonly id: string }[];
  readonly nextCursor: string | null;
}

interface Entry {
  readonly type: string;
  readonly data: { readonly signed: object; readonly signature: { readonly contentHash: string } };
}

interface Budget {
  readonly subject: { readonly refdes?: string };
  readonly limit: string;
}

describe('concessions', () => {
  let api: SpecApi;
  let ada: SignedInPerson;
  let quinn: SignedInPerson;
  let serials = 0;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
    const limit = { kind: 'site-reworks', allowed: 1, unit: 'reworks', action: 'hold', source: 'Policy' };
    await api.ask('PUT', '/v1/limits/strict', { body: { ...limit, scope: { assembly: 'BRD-1' } } });
    ada = await signInPerson(api.url, ADMIN_KEY, { name: 'ada', roles: ['approver'] });
    quinn = await signInPerson(api.url, ADMIN_KEY, { name: 'quinn', roles: ['quality'] });
  });

  afterAll(() => api.close());

  const happen = async (...events: object[]): Promise<void> => {
    await api.ask('POST', '/v1/events', { body: events });
    await api.fold();
  };

  const received = async (): Promise<string> => {
    serials += 1;
    const serial = `C${String(serials)}`;
    const data = { sites: [{ refdes: 'U1', priorReworks: 0 }] };
    await happen(sampleEvent('heatbook.unit.received.v1', data, { subject: `BRD-1/${serial}` }));
    return serial;
  };

  const wish = (serial: string, over: object = {}) => ({
    subject: { kind: 'site', assembly: 'BRD-1', serial, refdes: 'U1' },
    limit: 'site-reworks',
    allowed: 3,
    customerReference: 'NI-2030-117',
    note: 'The customer needs the board and knows the risk.',
    signature: ada.signature('conceded'),
    ...over,
  });

  const concede = (serial: string, over: object = {}) => ada.call('POST', '/v1/concessions', wish(serial, over));

  const reworkHolds = async (serial: string) => {
    const { body } = await quinn.call('GET', `/v1/holds?reason=site-reworks&serial=${serial}`);
    return body['items'] as readonly { id: string; state: string; evidence: { allowed: number } }[];
  };

  const siteReworks = async (serial: string): Promise<Budget | undefined> => {
    const { body } = await quinn.call('GET', `/v1/units/BRD-1/${serial}`);
    return (body['budgets'] as Budget[]).find(
      ({ subject, limit }) => limit === 'site-reworks' && subject.refdes === 'U1',
    );
  };

  it('loosen one limit of one subject for what comes, and leave the hold of what was before to people', async () => {
    const serial = await received();
    const other = await received();
    const removal = (unit: string) => removalEvent({ subject: `BRD-1/${unit}` });
    await happen(removal(serial), removal(serial));
    const [hold] = await reworkHolds(serial);
    expect(hold).toMatchObject({ state: 'open', evidence: { used: 2, allowed: 1 } });
    const conceded = await concede(serial);
    expect(conceded).toMatchObject({
      status: 201,
      body: { id: anyText, limit: 'site-reworks', allowed: 3, withdrawn: false, signedBy: 'ada', withdrawal: null },
    });
    expect(await siteReworks(serial)).toMatchObject({ used: 2, allowed: 3, rule: { concession: conceded.body['id'] } });
    await happen(removal(serial), removal(other), removal(other));
    expect(await reworkHolds(serial)).toMatchObject([{ id: hold?.id, state: 'open' }]);
    const explained = await quinn.call('GET', `/v1/holds/${String(hold?.id)}`);
    expect(explained.body).toMatchObject({
      causes: [{ source: '/stations/HG-1' }],
      concessions: [{ id: conceded.body['id'] }],
      rule: { name: 'strict', revision: 1, allowed: 1, source: 'Policy' },
    });
    expect(explained.body['causes']).toHaveLength(1);
    expect(await reworkHolds(other)).toHaveLength(1);
    await happen(removal(serial));
    const [again] = await reworkHolds(serial);
    expect(again).toMatchObject({ id: hold?.id, evidence: { used: 4, allowed: 3 } });
  });

  it('end by a signed withdrawal, once', async () => {
    const serial = await received();
    const { body } = await concede(serial);
    const path = `/v1/concessions/${String(body['id'])}/withdrawal`;
    const end = (who: SignedInPerson) =>
      who.call('POST', path, { note: 'Customer took it back.', signature: who.signature() });
    expect((await end(quinn)).body).toEqual(problem('not-allowed', 403));
    expect(await end(ada)).toMatchObject({ status: 200, body: { withdrawn: true, withdrawal: { by: 'ada' } } });
    expect((await end(ada)).body).toEqual(problem('concession-ended', 409));
    expect(await siteReworks(serial)).toMatchObject({ allowed: 1 });
    const found = await quinn.call('GET', `/v1/concessions/${String(body['id'])}`);
    expect(found.body).toMatchObject({ withdrawn: true });
    const entries = found.body['entries'] as Entry[];
    expect(entries.map(({ type }) => type)).toEqual([
      'heatbook.concession.signed.v1',
      'heatbook.concession.withdrawn.v1',
    ]);
    for (const { data } of entries) {
      expect(seal.sha256Hex(seal.canonical(data.signed))).toBe(data.signature.contentHash);
    }
    expect(entries[0]?.data.signed).toMatchObject({
      act: 'concede',
      allowed: 3,
      customerReference: 'NI-2030-117',
      by: 'ada',
      meaning: 'conceded',
    });
  });

  it('are granted once of two at once, since the second would allow no more', async () => {
    const serial = await received();
    const both = await Promise.all([concede(serial), concede(serial)]);
    expect(both.map(({ status }) => status).sort()).toEqual([201, 422]);
    const { body } = await quinn.call('GET', `/v1/concessions?assembly=BRD-1&serial=${serial}`);
    expect(body['items']).toHaveLength(1);
    expect((await concede(serial, { allowed: 4 })).status).toBe(201);
  });

  it('are for approvers alone, and for nobody with another password', async () => {
    const serial = await received();
    const own = { ...wish(serial), signature: quinn.signature() };
    expect((await quinn.call('POST', '/v1/concessions', own)).body).toEqual(problem('not-allowed', 403));
    expect((await api.ask('POST', '/v1/concessions', { body: own })).body).toEqual(problem('not-allowed', 403));
    const wrong = await concede(serial, { signature: { password: 'not the password', meaning: 'conceded' } });
    expect(wrong.body).toEqual(problem('wrong-password', 403));
    expect((await quinn.call('GET', `/v1/concessions?serial=${serial}`)).body['items']).toEqual([]);
  });

  it.each([
    ['no looser than the limit', { allowed: 1 }, 'concession-not-looser', /1 reworks \(limit strict, revision 1\)/],
    ['a part of a count', { allowed: 2.5 }, 'concession-unfit', /whole number/],
    ['a limit of another kind of subject', { limit: 'unit-reflows' }, 'concession-unfit', /site-reworks/],
    ['the lead limit, which is the law’s', { limit: 'joint-lead-max' }, 'invalid-body', /limit/],
    ['no reference of the customer', { customerReference: ' ' }, 'invalid-body', /customerReference/],
  ])('are refused for %s, with what would do', async (_what, over, code, detail) => {
    const serial = await received();
    const { body } = await concede(serial, over);
    expect(body).toMatchObject({ type: `urn:heatbook:problem:${code}`, status: 422, detail: textLike(detail) });
  });

  it('are refused for what the book does not know, or what is no subject', async () => {
    expect((await concede('NONE')).body).toEqual(problem('not-found', 404));
    const serial = await received();
    const site = { kind: 'site', assembly: 'BRD-1', serial, refdes: 'U99' };
    expect((await concede(serial, { subject: site })).body).toEqual(problem('not-found', 404));
    expect((await concede(serial, { subject: { kind: 'device', assembly: 'BRD-1', serial } })).status).toBe(422);
    expect((await quinn.call('GET', '/v1/concessions/none')).body).toEqual(problem('not-found', 404));
  });

  it('are listed newest first, page by page', async () => {
    const serial = await received();
    const ids: string[] = [];
    for (const allowed of [2, 3, 4]) ids.push(String((await concede(serial, { allowed })).body['id']));
    const list = async (query: string): Promise<Listed> => {
      const { body } = await quinn.call('GET', `/v1/concessions?serial=${serial}&kind=site-reworks&limit=2${query}`);
      const { items, nextCursor } = body;
      return { items, nextCursor } as Listed;
    };
    const first = await list('');
    const second = await list(`&cursor=${String(first.nextCursor)}`);
    expect([...first.items, ...second.items].map(({ id }) => id)).toEqual(ids.reverse());
    expect(second.nextCursor).toBeNull();
  });
});
