import { Principal } from '../../../libs/ledger/identity/principal.js';
import { memoryBook } from '../../../libs/ledger/memory/memory-book.js';
import { CustomersUnconfined } from '../../../libs/ledger/ports/customer-reads.js';
import { readsFor } from './reads-for.js';

const { read: reads, customers } = memoryBook({ now: () => '2026-03-02T08:00:00.000Z' });

function deps(customerReads = customers) {
  const errors: string[] = [];
  const log = { info: () => undefined, warn: () => undefined, error: (message: string) => void errors.push(message) };
  return { reads, customerReads, log, errors };
}

const customer: Principal = { name: 'alice', via: 'session', roles: ['customer'], customer: 'Northlight' };

describe('what a caller reads from', () => {
  it('is the whole book for people and keys of the house', () => {
    for (const role of ['station', 'operator', 'quality', 'approver', 'auditor', 'admin'] as const) {
      expect(readsFor(deps(), { name: 'x', via: 'key', roles: [role] })).toBe(reads);
    }
  });

  it('is what is theirs for a customer, whatever other roles come with it', () => {
    const asked: string[] = [];
    const customerReads = { of: (name: string) => (asked.push(name), customers.of(name)) };
    expect(readsFor(deps(customerReads), customer)).not.toBe(reads);
    expect(readsFor(deps(customerReads), { ...customer, roles: ['admin', 'customer'] })).not.toBe(reads);
    expect(readsFor(deps(customerReads), { name: 'x', via: 'session', roles: ['customer'] })).not.toBe(reads);
    expect(asked).toEqual(['Northlight', 'Northlight', '']);
  });

  it('is nothing for a customer whom the database would not confine, and the log says why', () => {
    const unbound = deps({
      of: () => {
        throw new CustomersUnconfined('no row-level security');
      },
    });
    expect(() => readsFor(unbound, customer)).toThrow('Customers cannot be served');
    expect(unbound.errors).toHaveLength(1);
    expect(readsFor(unbound, { name: 'x', via: 'key', roles: ['admin'] })).toBe(reads);
  });
});
