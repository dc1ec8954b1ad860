import type { FastifyRequest } from 'fastify';
import type { Log } from '../../../libs/ledger/ports/log.js';
import { ProblemError } from '../http/problem.js';
import { ClientBuckets } from './client-buckets.js';
import { clientOf } from './client-of.js';
import type { BucketSize } from './token-bucket.js';

type Refused = Pick<FastifyRequest, 'ip' | 'ips' | 'headers' | 'repeatsRefusal'>;

/**
 * Bounds how often one client may be refused. A good key or session is never among what is counted, so a crowd of strangers at the
 * same address keeps nobody out who has one. Requests without a good key and wrong passwords are counted apart: a station that goes
 * on with a key that was revoked keeps nobody at its address from signing in.
 */
export class RefusalLimits {
  private readonly keys: ClientBuckets;
  private readonly passwords: ClientBuckets;
  private hasSaidProxy = false;

  constructor(
    size: BucketSize,
    private readonly log: Log,
  ) {
    this.keys = new ClientBuckets(size);
    this.passwords = new ClientBuckets(size);
  }

  /** Counts a request that carries no good key or session. @throws ProblemError too-many-refusals */
  countKey(request: Refused): void {
    this.count(this.keys, request, 'Send no more requests without a good key or session');
  }

  /** Counts a password before it is looked at, so that a crowd that comes at once is counted too. @throws ProblemError too-many-refusals */
  countPassword(request: Refused): void {
    this.count(this.passwords, request, 'Too many names and passwords did not fit');
  }

  /** It was right, or was not looked at. */
  forgetPassword(request: Refused): void {
    this.passwords.giveBack(clientOf(request));
  }

  private count(buckets: ClientBuckets, request: Refused, detail: string): void {
    this.noteProxy(request);
    const taken = buckets.take(clientOf(request));
    if (taken.within) return;
    request.repeatsRefusal = !taken.isFirst;
    throw new ProblemError('too-many-refusals', `${detail}; try again after Retry-After seconds.`, {
      headers: { 'retry-after': String(taken.retryAfterSeconds) },
    });
  }

  /** Once: a proxy that is not believed makes one client of all that come through it. */
  private noteProxy({ headers, ips }: Refused): void {
    if (this.hasSaidProxy || headers['x-forwarded-for'] === undefined || ips?.length !== 1) return;
    this.hasSaidProxy = true;
    this.log.warn('Requests come through a proxy that HEATBOOK_PROXIES does not name: its clients count as one.');
  }
}
