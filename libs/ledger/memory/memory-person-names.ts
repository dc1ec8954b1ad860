import { AuditPerson } from '../audits/audit-source.js';
import { MOST_OPENED, PersonNames } from '../ports/person-names.js';
import { IdentityTables } from './identity-tables.js';
import { roundTrip } from './round-trip.js';

/** Printed names in the memory of this process. */
export class MemoryPersonNames implements PersonNames {
  readonly #tables: IdentityTables;

  constructor(tables: IdentityTables) {
    this.#tables = tables;
  }

  async opened(commitments: readonly string[]): Promise<readonly AuditPerson[]> {
    await roundTrip();
    const asked = [...new Set(commitments)].sort();
    if (asked.length > MOST_OPENED) throw new RangeError(`at most ${String(MOST_OPENED)} names are opened at once`);
    return asked.flatMap((commitment) => {
      const text = this.#tables.names.get(commitment);
      return text === undefined ? [] : [JSON.parse(text) as AuditPerson];
    });
  }
}
