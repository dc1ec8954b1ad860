import { randomBytes } from 'node:crypto';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Client } from 'pg';
import { newSigningKey } from '../../libs/evidence/log/node-signer.js';
import { freePort } from '../../libs/postgres/embedded/free-port.js';
import { startEmbeddedPostgres } from '../../libs/postgres/embedded/start-embedded-postgres.js';
import { bareAnswer } from '../support/bare-connection.js';
import { type FamilyMember, ProcessFamily } from '../support/process-family.js';

/** A secret of a kind that is told apart from all others in a text. */
const secret = (): string => randomBytes(24).toString('hex');
/** Beside other suites a start takes its time. */
const START_MS = 60_000;
const json = { 'content-type': 'application/json' };

/** A run of api and worker as processes, on a Postgres of their own, in which every secret passes by every way there is. */
describe('no key, password, cookie or token', () => {
  const family = new ProcessFamily();
  /** By what they are, so that one that is found is named. */
  const secrets: Record<string, string> = {
    'the admin key': secret(),
    'a password': secret(),
    'a new password': secret(),
    'a wrong password': secret(),
    'a guessed key': `hbk_${secret()}`,
    'a guessed cookie': secret().slice(0, 43),
    'a key in an address': secret(),
    'a password in what is no JSON': secret(),
    'a password in what is no HTTP': secret(),
    'a password of a start that fails': secret(),
    'the password at a broker': secret(),
    'the key of a receiver of traces': secret(),
  };
  const logs: Record<string, string> = {};

  beforeAll(async () => {
    const folder = await mkdtemp(join(tmpdir(), 'heatbook-secrets-'));
    const postgres = await startEmbeddedPostgres({ folder: join(folder, 'postgres') });
    try {
      const signingKey = newSigningKey();
      secrets['the signing key'] = signingKey.split('\n')[1] ?? '';
      secrets['the password of the database'] = new URL(postgres.url).password;
      const port = await freePort();
      const env = { DATABASE_URL: postgres.url, HEATBOOK_SIGNING_KEY: signingKey, HEATBOOK_DATA: folder };
      // Nothing listens there: what is said of that has the addresses at hand.
      const away = `127.0.0.1:${String(await freePort())}`;
      const beside = {
        MQTT_URL: `mqtt://heatbook:${secrets['the password at a broker'] ?? ''}@${away}`,
        OTEL_EXPORTER_OTLP_ENDPOINT: `http://${away}`,
        OTEL_EXPORTER_OTLP_HEADERS: `authorization=Bearer ${secrets['the key of a receiver of traces'] ?? ''}`,
      };
      const [api, worker] = [
        family.start('apps/api/main.ts', {
          ...env,
          ...beside,
          PORT: String(port),
          HEATBOOK_ADMIN_KEY: secrets['the admin key'] ?? '',
        }),
        family.start('apps/worker/main.ts', env),
      ];
      await Promise.all([api.printed('api is up', START_MS), worker.printed('worker is up', START_MS)]);
      await useAll(`http://127.0.0.1:${String(port)}`, postgres.url);
      await Promise.all([api.end('SIGTERM'), worker.end('SIGTERM')]);
      const wrong = new URL(postgres.url);
      wrong.password = secrets['a password of a start that fails'] ?? '';
      const failed = family.start('apps/api/main.ts', { ...env, PORT: '0', DATABASE_URL: wrong.href });
      await failed.ended;
      const printed = (member: FamilyMember): string => `${member.stdout()}${member.stderr()}`;
      Object.assign(logs, { api: printed(api), worker: printed(worker), failed: printed(failed) });
      logs['postgres'] = await readFile(join(folder, 'postgres', 'postgres.log'), 'utf8');
    } finally {
      await family.endAll();
      await postgres.stop();
      await rm(folder, { recursive: true, force: true });
    }
  }, 180_000);

  async function useAll(url: string, databaseUrl: string): Promise<void> {
    const { 'the admin key': adminKey = '', 'a password': password = '', 'a wrong password': wrong = '' } = secrets;
    const { 'a new password': newPassword = '' } = secrets;
    const admin = { authorization: `Bearer ${adminKey}` };
    const ask = (method: string, path: string, headers: Record<string, string>, body?: unknown): Promise<Response> =>
      fetch(`${url}${path}`, {
        method,
        headers: { ...headers, ...(body !== undefined && json) },
        ...(body !== undefined && { body: typeof body === 'string' ? body : JSON.stringify(body) }),
      });
    const signIn = (given: string): Promise<Response> =>
      ask('POST', '/v1/session', {}, { name: 'ann', password: given });

    await ask('POST', '/v1/people', admin, { name: 'ann', printedName: 'A', roles: ['quality', 'admin'], password });
    const signedIn = await signIn(password);
    expect(signedIn.status).toBe(200);
    const cookie = String(signedIn.headers.get('set-cookie')).split(';', 1)[0] ?? '';
    const { csrfToken } = (await signedIn.json()) as { csrfToken: string };
    Object.assign(secrets, { 'a cookie': cookie.split('=')[1], 'a CSRF token': csrfToken });
    await ask('PUT', '/v1/stations/S-1', admin, { kind: 'bench' });
    const issued = await ask('POST', '/v1/stations/S-1/keys', { cookie, 'x-csrf-token': csrfToken });
    secrets['the key of a station'] = ((await issued.json()) as { key: string }).key;
    await ask('GET', '/v1/stations/S-1/units', { authorization: `Bearer ${secrets['the key of a station'] ?? ''}` });

    // Refused, by key, cookie, token and password; and in places where none should be.
    await ask('GET', '/v1/units', { authorization: `Bearer ${secrets['a guessed key'] ?? ''}` });
    await ask('GET', '/v1/units', { cookie: `heatbook_session=${secrets['a guessed cookie'] ?? ''}` });
    await ask('PUT', '/v1/stations/S-2', { cookie, 'x-csrf-token': adminKey }, { kind: 'bench' });
    await ask('GET', `/v1/units?key=${secrets['a key in an address'] ?? ''}`, {});
    await ask('GET', `/v1/nowhere/${secrets['a key in an address'] ?? ''}`, admin);
    await ask('POST', '/v1/session', {}, `{"name":"ann","password":"${secrets['a password in what is no JSON'] ?? ''}`);
    await bareAnswer(url, `password=${secrets['a password in what is no HTTP'] ?? ''}\r\n\r\n`);
    await ask(
      'POST',
      '/v1/people/ann/password',
      { cookie, 'x-csrf-token': csrfToken },
      { current: wrong, password: newPassword },
    );
    for (let n = 0; n < 6; n += 1) await signIn(wrong);

    // What breaks is logged whole: with the table of people gone every one of these does.
    const client = new Client({ connectionString: databaseUrl });
    await client.connect();
    await client.query(`ALTER TABLE person RENAME TO person_away; ALTER TABLE access_key RENAME TO access_key_away`);
    const broken = [
      await ask('POST', '/v1/session', {}, { name: 'bob', password }),
      await ask('GET', '/v1/session', { cookie }),
      await ask('GET', '/v1/units', { authorization: `Bearer ${secrets['a guessed key'] ?? ''}` }),
      await ask('POST', '/v1/people', admin, {
        name: 'cid',
        printedName: 'C',
        roles: ['quality'],
        password: newPassword,
      }),
    ];
    expect(broken.map(({ status }) => status)).toEqual([500, 500, 500, 500]);
    await client.query(`ALTER TABLE person_away RENAME TO person; ALTER TABLE access_key_away RENAME TO access_key`);
    await client.end();
  }

  it('is written anywhere, by a request that is refused, or one that breaks, or a start that fails', () => {
    expect(logs['api']).toContain('"Request."');
    expect(logs['api']?.match(/A request failed\./g)).toHaveLength(4);
    expect(logs['api']).toMatch(/broker/);
    expect(logs['failed']).toMatch(/password authentication failed/);
    expect(logs['postgres']).toMatch(/relation "person" does not exist/);
    const found = Object.entries(logs).flatMap(([log, text]) =>
      Object.entries(secrets).flatMap(([what, value]) =>
        text.includes(value) ? [`${what} in the log of ${log}`] : [],
      ),
    );
    expect(found).toEqual([]);
    for (const [what, value] of Object.entries(secrets)) expect([what, value.length >= 16]).toEqual([what, true]);
  });
});
