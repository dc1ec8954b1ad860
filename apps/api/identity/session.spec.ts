import { addPerson, Browser } from '../spec-support/browser.js';
import { anyText, problem, textLike } from '../spec-support/matchers.js';
import { ADMIN_KEY, SpecApi, startApi } from '../spec-support/start-api.js';

const HOUR_MS = 3_600_000;

describe('a session', () => {
  let api: SpecApi;
  let password: string;

  beforeAll(async () => {
    api = await startApi();
    password = await addPerson(api, 'ann', { roles: ['quality', 'admin'] });
  });

  afterAll(() => api.close());

  async function signedIn(): Promise<Browser> {
    const browser = new Browser(api);
    await browser.signIn('ann', password);
    return browser;
  }

  it('begins with name and password, in a cookie that no script and no other site gets at', async () => {
    const answer = await new Browser(api).signIn('ann', password);
    expect(answer.status).toBe(200);
    expect(answer.body).toEqual({
      ...{ name: 'ann', printedName: 'ann in print', roles: ['quality', 'admin'] },
      ...{ csrfToken: textLike(/^[\w-]{43}$/), expiresAt: anyText },
    });
    const { expiresAt } = answer.body as { expiresAt: string };
    expect(Math.abs(Date.parse(expiresAt) - Date.now() - HOUR_MS)).toBeLessThan(60_000);
    const cookie = answer.headers.get('set-cookie') ?? '';
    expect(cookie).toMatch(/^heatbook_session=[\w-]{43}; /);
    expect(cookie.split('; ').slice(1).sort()).toEqual(['HttpOnly', 'Path=/', 'SameSite=Strict']);
  });

  it('has a cookie for HTTPS alone where the request came by it', async () => {
    const answer = await new Browser(api).ask(
      'POST',
      '/v1/session',
      { name: 'ann', password },
      {
        'x-forwarded-proto': 'https',
      },
    );
    const [cookie = '', ...attributes] = (answer.headers.get('set-cookie') ?? '').split('; ');
    expect(cookie).toMatch(/^__Host-heatbook_session=[\w-]{43}$/);
    expect(attributes.sort()).toEqual(['HttpOnly', 'Path=/', 'SameSite=Strict', 'Secure']);
  });

  it('over HTTPS is not in a cookie that a neighbour under the same domain could have planted', async () => {
    const secure = { 'x-forwarded-proto': 'https' };
    const neighbour = await signedIn();
    const planted = neighbour.cookie ?? '';
    const victim = new Browser(api);
    victim.cookie = planted;
    expect((await victim.ask('GET', '/v1/session', undefined, secure)).status).toBe(401);
    const answer = await victim.ask('POST', '/v1/session', { name: 'ann', password }, secure);
    expect(answer.status).toBe(200);
    victim.cookie = `${planted}; ${victim.cookie}`;
    const own = await victim.ask('GET', '/v1/session', undefined, secure);
    expect(own.body).toMatchObject({ csrfToken: (answer.body as { csrfToken: string }).csrfToken });
    // Signing out takes the cookie back under the name that it has.
    victim.csrfToken = (answer.body as { csrfToken: string }).csrfToken;
    const out = await victim.ask('DELETE', '/v1/session', undefined, secure);
    expect(out.headers.get('set-cookie')).toMatch(/^__Host-heatbook_session=;.*; Secure/);
    expect((await neighbour.ask('GET', '/v1/session')).status).toBe(200);
  });

  it('shows who has signed in, and lets them read and change what their roles may', async () => {
    const browser = await signedIn();
    expect((await browser.ask('GET', '/v1/session')).body).toMatchObject({ name: 'ann', csrfToken: browser.csrfToken });
    expect((await browser.ask('GET', '/v1/limits')).status).toBe(200);
    expect((await browser.ask('PUT', '/v1/stations/S-1', { kind: 'bench' })).status).toBe(201);
    const revisions = await browser.ask('GET', '/v1/stations/S-1/revisions');
    expect(revisions.body).toMatchObject({ items: [{ by: 'ann' }] });
    expect((await browser.ask('POST', '/v1/events', {})).status).not.toBe(401);
  });

  it.each([undefined, 'made up', 'x'.repeat(43)])('changes nothing with %p for its token', async (csrfToken) => {
    const browser = await signedIn();
    browser.csrfToken = csrfToken;
    for (const method of ['PUT', 'POST', 'DELETE']) {
      const answer = await browser.ask(method, method === 'PUT' ? '/v1/stations/S-2' : '/v1/session/nowhere');
      expect(answer.body).toEqual(problem('csrf-token-required', 403));
    }
    expect((await browser.ask('DELETE', '/v1/session')).body).toEqual(problem('csrf-token-required', 403));
    expect((await browser.ask('GET', '/v1/session')).status).toBe(200);
  });

  it('changes nothing with the token of another session', async () => {
    const [browser, other] = [await signedIn(), await signedIn()];
    browser.csrfToken = other.csrfToken;
    expect((await browser.ask('DELETE', '/v1/session')).body).toEqual(problem('csrf-token-required', 403));
  });

  it('is another one at every sign-in, whatever cookie the browser brought, and leaves none behind', async () => {
    const browser = new Browser(api);
    const planted = `heatbook_session=${'p'.repeat(43)}`;
    browser.cookie = planted;
    await browser.signIn('ann', password);
    expect(browser.cookie).not.toBe(planted);
    const first = browser.cookie;
    await browser.signIn('ann', password);
    expect(browser.cookie).not.toBe(first);

    const left = new Browser(api);
    for (const cookie of [planted, first]) {
      left.cookie = cookie;
      expect((await left.ask('GET', '/v1/session')).body).toEqual(problem('key-required', 401));
    }
    expect((await browser.ask('GET', '/v1/session')).status).toBe(200);
  });

  it('ends with signing out, in that browser alone', async () => {
    const [browser, other] = [await signedIn(), await signedIn()];
    const { cookie } = browser;
    const answer = await browser.ask('DELETE', '/v1/session');
    expect(answer.status).toBe(204);
    expect(answer.headers.get('set-cookie')).toMatch(
      /^heatbook_session=; Max-Age=0; |^heatbook_session=;.*(1970|Max-Age=0)/,
    );
    browser.cookie = cookie;
    expect((await browser.ask('GET', '/v1/session')).status).toBe(401);
    expect((await other.ask('GET', '/v1/session')).status).toBe(200);
  });

  it('gives way to a key, and a bad key is not made good by it', async () => {
    const browser = await signedIn();
    const withKey = (key: string) => ({ authorization: `Bearer ${key}` });
    expect((await browser.ask('GET', '/v1/session', undefined, withKey(ADMIN_KEY))).body).toEqual(
      problem('not-found', 404),
    );
    browser.csrfToken = undefined;
    expect((await browser.ask('PUT', '/v1/stations/S-3', { kind: 'bench' }, withKey(ADMIN_KEY))).status).toBe(201);
    expect((await browser.ask('GET', '/v1/session', undefined, withKey('hbk_none'))).status).toBe(401);
  });

  it.each([{}, { name: 'ann' }, { name: 'ann', password: 7 }, { name: 'no name!', password: 'a long enough word' }])(
    'does not begin with %p',
    async (body) => {
      expect((await new Browser(api).ask('POST', '/v1/session', body)).body).toEqual(problem('invalid-body', 422));
    },
  );

  it('does not begin by a form of another site, which can send no JSON', async () => {
    const answer = await fetch(`${api.url}/v1/session`, {
      method: 'POST',
      headers: { 'content-type': 'text/plain' },
      body: JSON.stringify({ name: 'ann', password }),
    });
    expect([answer.status, answer.headers.get('set-cookie')]).toEqual([415, null]);
  });

  it('writes neither password nor cookie into the log', () => {
    expect(api.lines.join('\n')).not.toMatch(/the long word|heatbook_session=/);
    expect(api.lines.length).toBeGreaterThan(0);
  });
});

describe('signing in with a wrong password', () => {
  let api: SpecApi;
  beforeAll(async () => {
    api = await startApi();
  });
  afterAll(() => api.close());

  it('is answered alike for whoever there is and is not, and gives no cookie', async () => {
    await addPerson(api, 'bob', { roles: ['operator'] });
    const away = await addPerson(api, 'cid', { roles: ['operator'] });
    await api.ask('PUT', '/v1/people/cid', { body: { printedName: 'C', roles: ['operator'], disabled: true } });
    const answers = await Promise.all([
      new Browser(api).signIn('bob', 'not the long word'),
      new Browser(api).signIn('nobody', 'not the long word'),
      new Browser(api).signIn('cid', away),
    ]);
    const [first, ...others] = answers.map(({ body, headers }) => {
      expect(body).toEqual(problem('sign-in-failed', 401));
      expect(headers.get('set-cookie')).toBeNull();
      return { ...(body as object), instance: 'left out' };
    });
    expect(others).toEqual([first, first]);
  });

  it('is refused for a while after five, the right one too, and says how long', async () => {
    const password = await addPerson(api, 'dan', { roles: ['operator'] });
    for (const name of ['dan', 'nobody-else']) {
      const statuses = [];
      for (let time = 0; time < 5; time += 1)
        statuses.push((await new Browser(api).signIn(name, 'not the long word')).status);
      expect(statuses).toEqual([401, 401, 401, 401, 401]);
      const locked = await new Browser(api).signIn(name, password);
      expect(locked.body).toEqual(problem('too-many-attempts', 429));
      expect(locked.headers.get('retry-after')).toBe('1');
    }
    await api.ask('POST', '/v1/people/dan/password', { body: { password: 'a newer long word' } });
    expect((await new Browser(api).signIn('dan', 'a newer long word')).status).toBe(200);
  });

  it('is put off where too many come at once', async () => {
    await addPerson(api, 'eve', { roles: ['operator'] });
    const tries = Array.from({ length: 60 }, (_, n) => new Browser(api).signIn(`crowd-${n}`, 'not the long word'));
    const answers = await Promise.all(tries);
    const statuses = new Set(answers.map(({ status }) => status));
    expect(statuses).toEqual(new Set([401, 503]));
    const putOff = answers.find(({ status }) => status === 503);
    expect(putOff?.body).toEqual(problem('unavailable', 503));
    expect(putOff?.headers.get('retry-after')).toBe('2');
  });
});
