import { hasRole, Principal } from '../../../libs/ledger/identity/principal.js';
import { CustomersUnconfined } from '../../../libs/ledger/ports/customer-reads.js';
import { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import { ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';

/** Whether a caller may see what belongs to one customer only. */
export function isCustomer(caller: Principal): boolean {
  return hasRole(caller, 'customer');
}

/**
 * What a caller may read: everything, or for a customer what is theirs.
 * @throws ProblemError unavailable where the database would not confine a customer
 */
export function readsFor(
  { reads, customerReads, log }: Pick<ApiDeps, 'reads' | 'customerReads' | 'log'>,
  caller: Principal,
): ReadStore {
  if (!isCustomer(caller)) return reads;
  try {
    return customerReads.of(caller.customer ?? '');
  } catch (error) {
    if (!(error instanceof CustomersUnconfined)) throw error;
    log.error('A customer was not served.', { why: error.message });
    throw new ProblemError(
      'unavailable',
      'Customers cannot be served as the service is set up now; tell whoever runs it, whose log says how to mend it.',
    );
  }
}
