import pg from 'pg';
import { AuditPerson } from '../ledger/audits/audit-source.js';
import { MOST_OPENED, PersonNames } from '../ledger/ports/person-names.js';

/** Printed names in Postgres, in a table that only the house may see. */
export class PgPersonNames implements PersonNames {
  constructor(private readonly pool: pg.Pool) {}

  async opened(commitments: readonly string[]): Promise<readonly AuditPerson[]> {
    const asked = [...new Set(commitments)];
    if (asked.length > MOST_OPENED) throw new RangeError(`at most ${String(MOST_OPENED)} names are opened at once`);
    if (asked.length === 0) return [];
    const { rows } = await this.pool.query<AuditPerson>(
      `SELECT commitment, name, printed_name AS "printedName", salt FROM person_name WHERE commitment = ANY ($1)
       ORDER BY commitment`,
      [asked],
    );
    return rows;
  }
}
