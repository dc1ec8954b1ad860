import { DeskRefusal, isRefused } from '../../../libs/ledger/holds/desk-refusal.js';
import { ProblemError } from '../http/problem.js';

/**
 * What the desk did.
 * @throws ProblemError where it refused
 */
export function done<T extends object>(answer: T | DeskRefusal): T {
  if (!isRefused(answer)) return answer;
  const { refused, detail } = answer;
  throw new ProblemError(refused === 'unknown-subject' ? 'not-found' : refused, detail);
}
