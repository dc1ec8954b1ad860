import { Role } from '../ledger/identity/principal.js';
import { Person } from '../ledger/ports/person-store.js';

export interface PersonRow {
  readonly name: string;
  readonly printed_name: string;
  readonly roles: Role[];
  readonly customer: string | null;
  readonly disabled: boolean;
  readonly password_hash: string;
  readonly revision: number;
  readonly created_at: Date;
  readonly changed_at: Date;
}

export const PERSON_COLUMNS =
  'p.name, p.printed_name, p.roles, p.customer, p.disabled, p.password_hash, p.revision, p.created_at, p.changed_at';

export function toPerson(row: PersonRow): Person {
  const { name, printed_name: printedName, roles, customer, disabled, password_hash: passwordHash, revision } = row;
  const [createdAt, changedAt] = [row.created_at.toISOString(), row.changed_at.toISOString()];
  return { name, printedName, roles, customer, disabled, passwordHash, revision, createdAt, changedAt };
}
