import { silentLog } from '../../test/support/silent-log.js';
import { serveHealth, WorkerHealth } from './serve-health.js';

describe('the health of a worker', () => {
  let health: WorkerHealth;
  let database: 'ok' | 'failing' | 'away' = 'ok';

  beforeAll(async () => {
    const ready = () =>
      database === 'away'
        ? Promise.reject(new Error('secret of the database'))
        : Promise.resolve({ ok: database === 'ok', checks: { database } } as const);
    const reads = {
      backlog: () => Promise.resolve({ pending: 3, oldestReceivedAt: '2030-01-01T00:00:00Z', parked: 0 }),
    };
    const figures = { text: () => Promise.resolve('heatbook_fold_failures_total 0\n'), contentType: 'text/plain' };
    health = await serveHealth({ ready, log: silentLog, reads, figures }, { host: '127.0.0.1', port: 0 });
  });

  afterAll(() => health.close());

  async function ask(path: string): Promise<{ status: number; body: unknown }> {
    const answer = await fetch(`${health.url}${path}`);
    return { status: answer.status, body: await answer.json() };
  }

  it('says that it lives, and that it is ready while events are folded', async () => {
    expect(await ask('/health/live')).toEqual({ status: 200, body: { ok: true } });
    const checks = { database: 'ok', folding: 'ok' };
    expect(await ask('/health/ready')).toEqual({ status: 200, body: { ok: true, checks } });
  });

  it('says what is failing, and nothing of why', async () => {
    database = 'failing';
    expect(await ask('/health/ready')).toMatchObject({ status: 503, body: { checks: { database: 'failing' } } });
    database = 'away';
    expect(await ask('/health/ready')).toEqual({ status: 503, body: { ok: false, checks: { service: 'failing' } } });
  });

  it('gives its figures', async () => {
    const answer = await fetch(`${health.url}/metrics`);
    expect(answer.headers.get('content-type')).toBe('text/plain');
    expect(await answer.text()).toContain('heatbook_fold_failures_total');
  });

  it('serves nothing else', async () => {
    expect(await ask('/v1/holds')).toEqual({ status: 404, body: { ok: false } });
  });
});
