import { addPerson, Browser } from '../spec-support/browser.js';
import { problem } from '../spec-support/matchers.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

describe('accounts', () => {
  let api: SpecApi;

  beforeAll(async () => {
    api = await startApi();
  });

  afterAll(() => api.close());

  async function signedIn(name: string, roles: readonly string[]): Promise<Browser> {
    const browser = new Browser(api);
    await browser.signIn(name, await addPerson(api, name, { roles }));
    return browser;
  }

  it('are made by an admin, once, and shown without anything of their password', async () => {
    const body = { name: 'ann', printedName: 'Ann Miller', roles: ['customer'], customer: 'Thimblewick' };
    const made = await api.ask('POST', '/v1/people', { body: { ...body, password: 'a long enough word' } });
    expect(made).toMatchObject({ status: 201, body: { ...body, disabled: false, revision: 1 } });
    const again = await api.ask('POST', '/v1/people', { body: { ...body, password: 'a long enough word' } });
    expect(again.body).toEqual(problem('name-taken', 409));
    const read = await api.ask('GET', '/v1/people/ann');
    expect(read.body).toEqual(made.body);
    for (const { text } of [made, read, await api.ask('GET', '/v1/people')])
      expect(text).not.toMatch(/argon2|long enough|passwordHash/);
    expect((await api.ask('GET', '/v1/people/nobody')).body).toEqual(problem('not-found', 404));
  });

  it.each([
    ['/password', { password: 'too short' }],
    ['/password', { name: 'someone.in.the.house', password: 'Someone.In.The.House' }],
    ['/password', { password: undefined }],
    ['/roles', { roles: [] }],
    ['/roles', { roles: ['station'] }],
    ['/roles', { roles: ['quality', 'quality'] }],
    ['/roles', { roles: 'quality' }],
    ['/roles', { roles: ['customer', 'quality'], customer: 'Thimblewick' }],
    ['/customer', { roles: ['customer'] }],
    ['/customer', { customer: 'Thimblewick' }],
    ['/printedName', { printedName: ' ' }],
    ['/name', { name: 'no name' }],
    ['/passwordHash', { passwordHash: '$argon2id$' }],
  ])('are refused where %s does not fit: %p', async (pointer, wrong) => {
    const body = { name: 'unfit', printedName: 'U', roles: ['quality'], password: 'a long enough word', ...wrong };
    const answer = await api.ask('POST', '/v1/people', { body });
    expect(answer.body).toEqual(problem('invalid-body', 422));
    expect(answer.body).toMatchObject({ errors: [{ pointer }] });
    expect((await api.ask('GET', '/v1/people/unfit')).status).toBe(404);
  });

  it('are for admin to change, for quality and auditor to read, and for nobody else', async () => {
    const people: [string, number, number][] = [
      ['quality', 200, 403],
      ['auditor', 200, 403],
      ['operator', 403, 403],
      ['approver', 403, 403],
      ['admin', 200, 200],
    ];
    await addPerson(api, 'target', { roles: ['operator'] });
    for (const [role, read, revise] of people) {
      const browser = await signedIn(`a-${role}`, [role]);
      const body = { printedName: `by ${role}`, roles: ['operator'] };
      expect([role, (await browser.ask('GET', '/v1/people/target')).status]).toEqual([role, read]);
      expect([role, (await browser.ask('GET', '/v1/people/target/changes')).status]).toEqual([role, read]);
      expect([role, (await browser.ask('PUT', '/v1/people/target', body)).status]).toEqual([role, revise]);
    }
  });

  it('have every change on record', async () => {
    await addPerson(api, 'gil', { roles: ['operator'] });
    const chief = await signedIn('chief', ['admin']);
    await chief.ask('PUT', '/v1/people/gil', { printedName: 'Gil', roles: ['operator', 'quality'] });
    await chief.ask('POST', '/v1/people/gil/password', { password: 'another long word' });
    const { body, text } = await api.ask('GET', '/v1/people/gil/changes');
    expect(body).toMatchObject({
      items: [
        { revision: 1, what: 'created', by: 'admin', account: { roles: ['operator'] } },
        { revision: 2, what: 'revised', by: 'chief', account: { printedName: 'Gil', roles: ['operator', 'quality'] } },
        { revision: 3, what: 'password-changed', by: 'chief' },
      ],
      nextCursor: null,
    });
    expect(text).not.toMatch(/argon2|long word/);
    expect((await api.ask('GET', '/v1/people/nobody/changes')).status).toBe(404);
  });

  it.each([
    ['other roles', { roles: ['operator', 'quality'] }],
    ['disabling', { roles: ['operator'], disabled: true }],
  ])('end their sessions with %s', async (what, change) => {
    const name = `moved-by-${what.replace(' ', '-')}`;
    const browser = await signedIn(name, ['operator']);
    expect((await browser.ask('GET', '/v1/limits')).status).toBe(200);
    const revised = await api.ask('PUT', `/v1/people/${name}`, { body: { printedName: 'M', ...change } });
    expect(revised).toMatchObject({ status: 200, body: { revision: 2 } });
    expect((await browser.ask('GET', '/v1/limits')).body).toEqual(problem('key-required', 401));
  });

  it('take a new password from their owner, who knows the one until now', async () => {
    const browser = await signedIn('hal', ['operator']);
    const elsewhere = new Browser(api);
    await elsewhere.signIn('hal', 'the long word of hal');
    const path = '/v1/people/hal/password';
    const password = 'a newer long word';
    expect((await browser.ask('POST', path, { password })).body).toMatchObject({ errors: [{ pointer: '/current' }] });
    expect((await browser.ask('POST', path, { password, current: 'not it at all' })).body).toEqual(
      problem('wrong-password', 403),
    );
    const current = 'the long word of hal';
    expect((await browser.ask('POST', path, { password: 'short', current })).body).toEqual(
      problem('invalid-body', 422),
    );
    expect((await browser.ask('POST', path, { password, current })).status).toBe(204);
    for (const one of [browser, elsewhere]) expect((await one.ask('GET', '/v1/session')).status).toBe(401);
    expect((await new Browser(api).signIn('hal', current)).status).toBe(401);
    expect((await new Browser(api).signIn('hal', password)).status).toBe(200);
  });

  it('take one from an admin, who need not know it, and from nobody else', async () => {
    await addPerson(api, 'ida', { roles: ['operator'] });
    const [admin, other] = [await signedIn('the-admin', ['admin']), await signedIn('other', ['quality', 'approver'])];
    const body = { password: 'a newer long word', current: 'the long word of ida' };
    expect((await other.ask('POST', '/v1/people/ida/password', body)).body).toEqual(problem('not-allowed', 403));
    expect((await admin.ask('POST', '/v1/people/the-admin/password', { password: body.password })).status).toBe(422);
    expect((await admin.ask('POST', '/v1/people/ida/password', { password: body.password })).status).toBe(204);
    expect((await new Browser(api).signIn('ida', body.password)).status).toBe(200);
    expect((await admin.ask('POST', '/v1/people/nobody/password', { password: body.password })).status).toBe(404);
  });
});
