import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { ProblemError } from '../http/problem.js';

/** Exports that one caller gets at once, and all together of one process: a long PDF takes some 100 MB while it is written. */
const MOST_OF_ONE = 4;
const MOST_IN_ALL = 16;
const RETRY_AFTER_S = 5;

/** Bounds the exports that a process writes at once, so that neither many of them nor slow readers exhaust it. */
export class ExportTurns {
  private readonly running = new Map<string, number>();
  private inAll = 0;

  /**
   * Counts one more export of a caller.
   * @returns ends it; to be called once
   * @throws ProblemError too-many-exports
   */
  take({ name, via }: Pick<Principal, 'name' | 'via'>): () => void {
    const caller = `${via} ${name}`;
    const own = this.running.get(caller) ?? 0;
    if (own >= MOST_OF_ONE)
      throw tooMany(`${String(own)} exports of yours are being sent: read these to their end first.`);
    if (this.inAll >= MOST_IN_ALL) throw tooMany('As many exports are being sent as the service can bear.');
    this.running.set(caller, own + 1);
    this.inAll += 1;
    return () => {
      const left = (this.running.get(caller) ?? 0) - 1;
      if (left > 0) this.running.set(caller, left);
      else this.running.delete(caller);
      this.inAll -= 1;
    };
  }
}

function tooMany(why: string): ProblemError {
  const way = 'Try again in a few seconds; for many units ask for an archive with POST /v1/audits.';
  return new ProblemError('too-many-exports', `${why} ${way}`, { headers: { 'retry-after': String(RETRY_AFTER_S) } });
}
