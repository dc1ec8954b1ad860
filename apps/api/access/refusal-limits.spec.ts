import { addPerson } from '../spec-support/browser.js';
import { problem } from '../spec-support/matchers.js';
import { ADMIN_KEY, type SpecApi, startApi } from '../spec-support/start-api.js';
import { SERVER_LIMITS } from '../http/server-limits.js';

const BURST = 4;
const NAME_WITH_PASSWORD = 'gus';

interface RecordLine {
  readonly outcome: string;
  readonly route: string | null;
}

describe('whoever is refused again and again', () => {
  let api: SpecApi;
  let password: string;

  beforeEach(async () => {
    // None comes back while a test lasts.
    const refusals = { burst: BURST, perSecond: 0.001 };
    api = await startApi({ limits: { ...SERVER_LIMITS, refusals }, proxies: ['127.0.0.1'] });
    password = await addPerson(api, NAME_WITH_PASSWORD, { roles: ['operator'] });
  });

  afterEach(() => api.close());

  async function get(headers: Record<string, string>, from = '192.0.2.1'): Promise<{ status: number; body: unknown }> {
    const answer = await fetch(`${api.url}/v1/limits`, { headers: { 'x-forwarded-for': from, ...headers } });
    const { status } = answer;
    if (status === 429) expect(Number(answer.headers.get('retry-after'))).toBeGreaterThan(0);
    return { status, body: await answer.json() };
  }

  async function signIn(name: string, given: string, from = '192.0.2.1'): Promise<unknown> {
    const answer = await fetch(`${api.url}/v1/session`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'x-forwarded-for': from },
      body: JSON.stringify({ name, password: given }),
    });
    return answer.status === 200 ? 'signed in' : answer.json();
  }

  async function refusals(): Promise<readonly RecordLine[]> {
    const { body } = await api.ask('GET', '/v1/access-records?limit=100&kind=refused');
    return (body as { items: RecordLine[] }).items;
  }

  const good = { authorization: `Bearer ${ADMIN_KEY}` };
  const bad = { authorization: 'Bearer hbk_guessed' };

  it('is told to wait, and costs the record one more line, however often it comes', async () => {
    for (let n = 0; n < BURST; n += 1) expect((await get(n % 2 === 0 ? bad : {})).status).toBe(401);
    for (let n = 0; n < 20; n += 1) expect((await get(bad)).body).toEqual(problem('too-many-refusals', 429));
    let found = await refusals();
    while (found.length < BURST + 1) found = await refusals();
    // What is noted is written in order: a line that followed would stand before this one.
    await get(bad, '198.51.100.9');
    while (found.length < BURST + 2) found = await refusals();
    expect(found.map(({ outcome }) => outcome)).toEqual([
      ...['key-required', 'too-many-refusals'],
      ...Array.from({ length: BURST }, () => 'key-required'),
    ]);
  });

  it('keeps nobody at the same address out who has a key or a password', async () => {
    for (let n = 0; n < BURST + 3; n += 1) await get(bad);
    expect((await get(good)).status).toBe(200);
    expect(await signIn(NAME_WITH_PASSWORD, password)).toBe('signed in');
  });

  it('is one by the address that a proxy tells which is believed, whatever a client says before it', async () => {
    for (let n = 0; n < BURST + 1; n += 1) await get(bad, `203.0.113.${n}, 192.0.2.1`);
    expect((await get(bad)).status).toBe(429);
    expect((await get(bad, '192.0.2.2')).status).toBe(401);
  });

  it('does not get to guess at passwords of many accounts', async () => {
    for (let n = 0; n < BURST; n += 1) {
      expect(await signIn(`person-${n}`, 'not the long word')).toEqual(problem('sign-in-failed', 401));
    }
    expect(await signIn(NAME_WITH_PASSWORD, password)).toEqual(problem('too-many-refusals', 429));
    expect(await signIn(NAME_WITH_PASSWORD, password, '192.0.2.2')).toBe('signed in');
  });

  it('is not whoever signs in rightly, as often as they like', async () => {
    for (let n = 0; n < BURST * 2; n += 1) expect(await signIn(NAME_WITH_PASSWORD, password)).toBe('signed in');
  });

  it('cannot make itself another client where no proxy is believed, and the log says once that one is there', async () => {
    await api.close();
    api = await startApi({ limits: { ...SERVER_LIMITS, refusals: { burst: 2, perSecond: 0.001 } } });
    const statuses = [];
    for (let n = 0; n < 4; n += 1) statuses.push((await get(bad, `192.0.2.${n}`)).status);
    expect(statuses).toEqual([401, 401, 429, 429]);
    expect(api.lines.filter((line) => line.includes('HEATBOOK_PROXIES'))).toHaveLength(1);
  });
});
