import pg from 'pg';
import { to } from 'pg-copy-streams';
import { elapsedMs } from '../elapsed-ms.js';

/**
 * Reads the bytes of a ledger with one COPY to its end, in order, and keeps none of them.
 * @param subject a stream key that needs no escaping, such as `TWO-SIDES/LONG-1`
 * @returns how long that took, ms
 * @throws Error where nothing came, or what Postgres answers
 */
export async function copyOut(client: pg.Client, subject: string): Promise<number> {
  let bytes = 0;
  const tookMs = await elapsedMs(async () => {
    // COPY takes no parameters.
    const entries = `SELECT bytes FROM ledger_entry WHERE subject = ${pg.escapeLiteral(subject)} ORDER BY seq`;
    for await (const chunk of client.query(to(`COPY (${entries}) TO STDOUT`))) bytes += (chunk as Buffer).length;
  });
  if (bytes === 0) throw new Error(`there is no ledger ${subject}`);
  return tookMs;
}
