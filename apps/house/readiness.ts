import { Log } from '../../libs/ledger/ports/log.js';

/** Whether a service can do its work, part by part. */
export interface Readiness {
  readonly ok: boolean;
  readonly checks: Readonly<Record<string, 'ok' | 'failing'>>;
}

/** What a look came to; one that fails is logged and told as failing, without what it failed of. */
export async function readinessOf(look: () => Promise<Readiness>, log: Log): Promise<Readiness> {
  try {
    return await look();
  } catch (error) {
    log.warn('The readiness check failed.', { error: String(error) });
    return { ok: false, checks: { service: 'failing' } };
  }
}
