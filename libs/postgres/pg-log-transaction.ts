import { LedgerPlace } from '../ledger/log/log-evidence.js';
import { HASH_BYTES } from '../ledger/log/merkle/hashing.js';
import { LogDelivery, LogLeaf, LogNode, LogTransaction, StoredCheckpoint } from '../ledger/ports/log-store.js';
import { columnsOf, rowsOf, withArrays } from './bulk-rows.js';
import { PgLogReads } from './pg-log-reads.js';

interface DeliveryRow {
  readonly number: string;
  readonly subjects: readonly string[];
  readonly seqs: readonly number[];
  readonly hashes: readonly string[];
}

/** The sequencer's transaction on Postgres. */
export class PgLogTransaction extends PgLogReads implements LogTransaction {
  async waiting(deliveries: number, entries: number): Promise<readonly LogDelivery[]> {
    const { rows } = await this.queries.query<DeliveryRow>(
      // As JSON, which is read in one go.
      `SELECT number, to_json(subjects) AS subjects, to_json(seqs) AS seqs, to_json(hashes) AS hashes FROM (
         SELECT *, sum(cardinality(seqs)) OVER w AS entries, row_number() OVER w AS place
         FROM (SELECT * FROM log_inbox ORDER BY number LIMIT $1) oldest WINDOW w AS (ORDER BY number)) counted
       WHERE place = 1 OR entries <= $2 ORDER BY number`,
      [deliveries, entries],
    );
    return rows.map(({ number, subjects, seqs, hashes }) => ({
      number,
      entries: subjects.map((subject, n) => ({ subject, seq: seqs[n] ?? 0, hash: hashes[n] ?? '' })),
    }));
  }

  async known(places: readonly LedgerPlace[]): Promise<readonly LedgerPlace[]> {
    const { rows } = await this.queries.query<LedgerPlace>(
      `SELECT p.subject, p.seq, l.hash FROM unnest($1::text[], $2::integer[]) AS p(subject, seq),
       LATERAL (SELECT encode(hash, 'hex') AS hash FROM log_leaf
         WHERE log_leaf.subject = p.subject COLLATE "C" AND log_leaf.seq = p.seq OFFSET 0) l`,
      withArrays(columnsOf(places, ['subject', 'seq'])),
    );
    return rows;
  }

  async append(leaves: readonly LogLeaf[], nodes: readonly LogNode[], delivered: readonly string[]): Promise<void> {
    const hex = nodes.map(({ level, index, hash }) => ({ level, index, hash: Buffer.from(hash).toString('hex') }));
    // Sent without waiting in between; the first that fails makes all after it fail.
    await Promise.all([
      leaves.length > 0 &&
        this.queries.query(
          `INSERT INTO log_leaf (index, subject, seq, hash)
           SELECT index, subject, seq, substring($4::bytea FROM ${HASH_BYTES} * place::integer - ${HASH_BYTES - 1} FOR ${HASH_BYTES})
           FROM unnest($1::bigint[], $2::text[], $3::integer[]) WITH ORDINALITY AS n(index, subject, seq, place)`,
          withArrays([
            ...columnsOf(leaves, ['index', 'subject', 'seq']),
            Buffer.from(leaves.map(({ hash }) => hash).join(''), 'hex'),
          ]),
        ),
      nodes.length > 0 &&
        this.queries.query(
          `INSERT INTO log_node (level, index, hash) SELECT level, index, decode(hash, 'hex')
           FROM json_to_recordset($1::json) AS n(level smallint, index bigint, hash text)`,
          [rowsOf(hex)],
        ),
      this.queries.query(`DELETE FROM log_inbox WHERE number = ANY($1::bigint[])`, [delivered]),
    ]);
  }

  async keepCheckpoint({ size, root, note, at }: StoredCheckpoint): Promise<void> {
    await this.queries.query(`INSERT INTO log_checkpoint (size, root, note, at) VALUES ($1, $2, $3, $4)`, [
      size,
      Buffer.from(root),
      note,
      at,
    ]);
  }
}
