import { SERVER_LIMITS } from '../../apps/api/http/server-limits.js';
import { RECORDED_ROUTES } from '../../apps/api/access/recorded-routes.js';
import { CallerName, CALLERS, Credentials, letIn, ROLE_OF } from '../support/access-callers.js';
import { ACCESS_RULES, AccessRule } from '../support/access-rules.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SHOP } from '../support/small-shop.js';
import { ALDER, BIRCH, enterTwoCustomers, TwoCustomers } from '../support/two-customers.js';

/** Whose data a request is about: the first customer's, the second one's, or nobody's. */
type About = 'alder' | 'birch' | 'nobody';

interface Reply {
  readonly status: number;
  /** As text, without what differs from request to request. */
  readonly body: string;
}

/** A UUID that nothing has. */
const NO_ID = '00000000-0000-4000-8000-000000000000';
const NO_SERIAL = 'X-SERIAL';

let house: RunningHouse;
let book: TwoCustomers;
let credentials: Readonly<Record<CallerName, Credentials>>;

beforeAll(async () => {
  // It asks every route without a key, which nobody else does.
  house = await runningHouse(undefined, {
    serving: { limits: { ...SERVER_LIMITS, refusals: { burst: 10_000, perSecond: 1 } } },
  });
  book = await enterTwoCustomers(house);
  credentials = await letIn(house);
}, 60_000);

afterAll(() => house.close());

/** Routes of the OpenAPI document to the roles that it says may use them. */
async function routesOfTheDocument(): Promise<ReadonlyMap<string, readonly string[] | 'everyone'>> {
  const { body } = await house.call('GET', '/openapi.json', undefined, { key: null });
  const paths = body['paths'] as Record<string, Record<string, { 'x-roles'?: string[] }>>;
  return new Map(
    Object.entries(paths).flatMap(([path, operations]) =>
      Object.entries(operations).map(
        ([method, operation]) => [`${method.toUpperCase()} ${path}`, operation['x-roles'] ?? 'everyone'] as const,
      ),
    ),
  );
}

/** The address of a route with names put in; those of a unit or a hold are the ones that the request is about. */
function addressOf(path: string, about: About): string {
  const unit = about === 'birch' ? BIRCH : ALDER;
  const names: Record<string, string> = {
    assembly: unit.assembly,
    serial: about === 'nobody' ? NO_SERIAL : unit.serial,
    id: path.startsWith('/v1/holds/') && about !== 'nobody' ? book.holds[about] : NO_ID,
    ...{ device: unit.device, station: SHOP.bench, operator: 'ann', part: SHOP.part, profile: SHOP.profile },
    ...{
      revision: 'A',
      limit: 'device-excursions',
      name: 'm-operator',
      keyId: 'none',
      trace: 'none',
      alloy: 'none',
      day: 'none',
      path: 'holds',
    },
  };
  const filled = path.replace(/\{(\w+)\}/g, (_, name: string) => names[name] ?? `no value for ${name}`);
  const queries: Record<string, string> = {
    '/v1/events': `source=/stations/${SHOP.bench}&id=${ALDER.serial}-0`,
    '/v1/search': `q=${String(names['serial'])}`,
    '/v1/log/proofs/consistency': 'from=1&to=1',
    '/v1/log/proofs/inclusion': `assembly=${String(names['assembly'])}&serial=${String(names['serial'])}&seq=1`,
  };
  return queries[path] === undefined ? filled : `${filled}?${queries[path]}`;
}

/** A body that whoever may use the route gets past the guard with, and no further. */
function bodyFor(method: string, path: string): string | undefined {
  if (method === 'GET' || method === 'DELETE') return undefined;
  if (path !== '/v1/events') return path === '/v1/events/retries' ? undefined : '{}';
  const subject = `${ALDER.assembly}/${ALDER.serial}`;
  const event = { specversion: '1.0', id: 'matrix', source: `/stations/${SHOP.bench}`, subject };
  const type = 'heatbook.site.cleaned.v1';
  return JSON.stringify({ ...event, type, time: '2026-05-01T08:00:00Z', data: { refdes: 'U7', agent: 'water' } });
}

function typeFor(path: string): string {
  return path.startsWith('/v1/traces/') ? 'text/csv' : 'application/json';
}

async function ask(route: string, caller: CallerName, about: About): Promise<Reply> {
  const [method = '', path = ''] = route.split(' ');
  const body = bodyFor(method, path);
  const response = await fetch(`${house.url}${addressOf(path, about)}`, {
    method,
    headers: { ...credentials[caller], ...(body !== undefined && { 'content-type': typeFor(path) }) },
    ...(body !== undefined && { body }),
  });
  // The stream goes on for as long as somebody listens.
  const isEndless = response.headers.get('content-type')?.startsWith('text/event-stream') === true;
  if (isEndless) await response.body?.cancel();
  const text = isEndless ? '' : await response.text();
  return { status: response.status, body: text.replace(/"instance":"[^"]*"/, '') };
}

/** The one status that an answer must have, or undefined where the caller is let through. */
function refusalOf(rule: AccessRule, caller: CallerName, about: About): 401 | 403 | 404 | undefined {
  const role = ROLE_OF[caller];
  if (rule.who === 'everyone') return undefined;
  if (role === null) return 401;
  if (!rule.who.includes(role)) return 403;
  if (rule.about === 'station') return caller === 'other-station' ? 403 : undefined;
  const own = caller === 'customer' ? 'alder' : caller === 'other-customer' ? 'birch' : about;
  return rule.about !== undefined && own !== about ? 404 : undefined;
}

/** What an answer that is as it should be comes to, and otherwise the answer. */
function judged(route: string, rule: AccessRule, reply: Reply, expected: number | undefined): string {
  const { status } = reply;
  if (expected !== undefined) return status === expected ? 'refused' : `${String(status)}, not ${String(expected)}`;
  if (status === 401 || status === 403 || status >= 500) return `${String(status)}, but is let in: ${reply.body}`;
  if (status === 404 && rule.absent === undefined) return `404, but is there: ${reply.body}`;
  if (route.startsWith('GET ') && status >= 400 && rule.absent === undefined) return `${String(status)}: ${reply.body}`;
  return 'let in';
}

describe('the matrix of access', () => {
  it('has a rule for every route of the OpenAPI document, and a route for every rule', async () => {
    const routes = await routesOfTheDocument();
    expect([...routes.keys()].sort()).toEqual(Object.keys(ACCESS_RULES).sort());
  });

  it('agrees with what the OpenAPI document says of roles', async () => {
    const sorted = (who: readonly string[] | 'everyone' | undefined): unknown =>
      Array.isArray(who) ? [...(who as string[])].sort() : who;
    const said = [...(await routesOfTheDocument())].map(([route, who]) => [route, sorted(who)]);
    expect(said).toEqual(said.map(([route]) => [route, sorted(ACCESS_RULES[String(route)]?.who)]));
  });

  it('records only routes that there are', () => {
    const recorded = [...RECORDED_ROUTES.keys()].map((route) => route.replace(/:(\w+)/g, '{$1}'));
    expect(recorded.filter((route) => ACCESS_RULES[route] === undefined)).toEqual([]);
  });

  const rows = Object.entries(ACCESS_RULES).filter(([route]) => route !== 'DELETE /v1/session');

  it.each(rows)('%s', async (route, rule) => {
    const found: Record<string, string> = {};
    const expected: Record<string, string> = {};
    for (const caller of CALLERS) {
      for (const about of rule.about === 'unit' || rule.about === 'hold'
        ? (['alder', 'birch'] as const)
        : (['alder'] as const)) {
        const refusal = refusalOf(rule, caller, about);
        const cell = `${caller} about ${about}`;
        found[cell] = judged(route, rule, await ask(route, caller, about), refusal);
        expected[cell] = refusal === undefined ? 'let in' : 'refused';
      }
    }
    expect(found).toEqual(expected);
  });

  it.each(rows.filter(([, { about }]) => about === 'unit' || about === 'hold'))(
    '%s tells a customer of what is another’s what it tells of what is not there',
    async (route) => {
      const foreign = await ask(route, 'customer', 'birch');
      const unknown = await ask(route, 'customer', 'nobody');
      const plain = ({ status, body }: Reply): string =>
        [BIRCH.assembly, ALDER.assembly, BIRCH.serial, NO_SERIAL, book.holds.birch, NO_ID].reduce(
          (text, name) => text.replaceAll(name, '?'),
          `${String(status)} ${body}`,
        );
      expect(plain(foreign)).toBe(plain(unknown));
      expect(foreign.status).toBe(404);
    },
  );

  // Last, since it ends the sessions that the others are asked in.
  it('DELETE /v1/session', async () => {
    const rule = ACCESS_RULES['DELETE /v1/session'];
    if (rule === undefined) throw new Error('there is no rule for signing out');
    for (const caller of CALLERS) {
      const refusal = refusalOf(rule, caller, 'alder');
      const reply = await ask('DELETE /v1/session', caller, 'alder');
      expect([caller, judged('DELETE', rule, reply, refusal)]).toEqual([
        caller,
        refusal === undefined ? 'let in' : 'refused',
      ]);
    }
    expect((await ask('GET /v1/units', 'quality', 'alder')).status).toBe(401);
  });
});
