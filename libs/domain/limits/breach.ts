import { Evidence } from '../holds/cause.js';
import { citationOf, ResolvedLimit } from './resolve-limit.js';

/** A limit that is not kept, with everything that shows it. */
export interface Breach {
  readonly limit: ResolvedLimit;
  /** A limit that only warns stops nothing, and neither does an estimate that a measurement may prove wrong. */
  readonly action: 'hold' | 'warn';
  readonly evidence: Evidence;
  /** What would resolve it. */
  readonly remedy: string;
}

/** A breach of a limit, told by what the limit allows and the figures given. */
export function breachOf(
  limit: ResolvedLimit,
  told: Pick<Evidence, 'summary' | 'used' | 'details'> & { readonly remedy: string },
  action: Breach['action'] = limit.action,
): Breach {
  const { allowed, unit } = limit;
  const { remedy, ...shown } = told;
  return { limit, action, evidence: { ...shown, allowed, unit, limit: citationOf(limit) }, remedy };
}
