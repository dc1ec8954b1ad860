import { Role } from '../ledger/identity/principal.js';
import { Person } from '../ledger/ports/person-store.js';
import { pseudonymOf } from '../ledger/signing/pseudonym.js';

export interface PersonRow {
  readonly name: string;
  readonly named: string;
  readonly printed_name: string | null;
  readonly roles: Role[];
  readonly customer: string | null;
  readonly disabled: boolean;
  readonly password_hash: string;
  readonly revision: number;
  readonly created_at: Date;
  readonly changed_at: Date;
  readonly erased_at: Date | null;
}

export const PERSON_COLUMNS = `p.name, p.named, n.printed_name, p.roles, p.customer, p.disabled, p.password_hash, p.revision,
  p.created_at, p.changed_at, p.erased_at`;

/** What `PERSON_COLUMNS` are of. */
export const PEOPLE_NAMED = 'person p JOIN person_name n ON n.commitment = p.named';

export function toPerson(row: PersonRow): Person {
  const { name, named, roles, customer, disabled, password_hash: passwordHash, revision } = row;
  const [createdAt, changedAt] = [row.created_at.toISOString(), row.changed_at.toISOString()];
  const erasedAt = row.erased_at?.toISOString() ?? null;
  const printedName = row.printed_name ?? pseudonymOf(named);
  return {
    ...{ name, printedName, named, roles, customer, disabled, passwordHash, revision },
    ...{ createdAt, changedAt, erasedAt },
  };
}
