import { KeyRefused, RequestRefused, Unreachable } from '../errors.js';
import { problem, StandIn } from '../spec-support/stand-in.js';
import { ClearanceRequest } from './clearance-request.js';
import { requestClearance } from './request-clearance.js';

const REQUEST: ClearanceRequest = {
  assembly: 'ZIB-PANEL-1',
  serial: '0103',
  operator: 'op-101',
  steps: [{ type: 'heatbook.site.heated.v1', refdes: 'U1', purpose: 'touch-up' }],
};
const GRANT = { id: 'c-1', state: 'granted', grantedAt: '2031-05-09T12:00:00Z', expiresAt: '2031-05-09T13:00:00Z' };
const FULL = { status: 503, body: problem('unavailable', 503) };

let server: StandIn;
beforeEach(async () => {
  server = await StandIn.start();
});
afterEach(() => server.close());

const ask = (options = {}) => requestClearance({ url: server.url, key: 'k' }, REQUEST, options);

it('tells a grant', async () => {
  server.replies.push({ status: 201, body: GRANT });
  expect(await ask()).toEqual({ verdict: 'granted', mayProceed: true, decidedBy: 'heatbook', clearance: GRANT });
  expect(server.asked[0]).toMatchObject({ method: 'POST', path: '/v1/clearances', body: REQUEST });
});

it('tells a refusal with its reasons, whatever the policy', async () => {
  const reasons = [{ code: 'hold-open', subject: { kind: 'unit' }, detail: 'odd', remedy: 'decide' }];
  server.replies.push({ status: 409, body: { ...problem('clearance-refused', 409), reasons } });
  const answer = await ask({ whenUnreachable: 'proceed-uncleared' });
  expect(answer).toMatchObject({ verdict: 'refused', mayProceed: false, decidedBy: 'heatbook', reasons });
});

it('asks again under the same key until it is answered', async () => {
  server.replies.push(FULL, { status: 500 }, { status: 201, body: GRANT });
  expect((await ask()).verdict).toBe('granted');
  const keys = server.asked.map(({ headers }) => headers['idempotency-key']);
  expect(keys).toHaveLength(3);
  expect(new Set(keys).size).toBe(1);
});

it.each([
  ['refuse', false],
  ['proceed-uncleared', true],
] as const)('answers by the policy %s when the time is up, and says so', async (policy, mayProceed) => {
  server.decide = () => 'silence';
  const answer = await ask({ timeoutMs: 150, whenUnreachable: policy, idempotencyKey: 'mine' });
  expect(answer).toMatchObject({
    verdict: 'unreachable',
    mayProceed,
    decidedBy: 'policy',
    policy,
    idempotencyKey: 'mine',
  });
  expect(answer).toHaveProperty('error', expect.any(Unreachable));
});

it('refuses where nothing was said of a policy, and does not wait for a pause that is too long', async () => {
  server.decide = () => ({ ...FULL, headers: { 'retry-after': '60' } });
  const began = performance.now();
  expect(await ask()).toMatchObject({ verdict: 'unreachable', mayProceed: false });
  expect(performance.now() - began).toBeLessThan(5_000);
});

it('takes what is no clearance for no answer', async () => {
  server.decide = () => ({ status: 200, body: { welcome: 'to the network of the hotel' } });
  expect(await ask({ timeoutMs: 100, whenUnreachable: 'refuse' })).toMatchObject({ verdict: 'unreachable' });
});

it('throws where the key or the request is wrong: no policy stands for that', async () => {
  const options = { whenUnreachable: 'proceed-uncleared' };
  server.replies.push({ status: 401, body: problem('key-required', 401) });
  await expect(ask(options)).rejects.toThrow(KeyRefused);
  server.replies.push({ status: 422, body: problem('invalid-body', 422, '/operator is missing.') });
  await expect(ask(options)).rejects.toThrow(new RequestRefused(422, undefined).message.slice(0, 30));
});
