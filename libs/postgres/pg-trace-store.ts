import pg from 'pg';
import { StreamKey } from '../domain/subject/subject.js';
import { ThermocoupleType } from '../domain/trace/its90.js';
import { isSameTrace, StoredTrace, TraceEncoding, TraceFacts, TraceStore } from '../ledger/ports/trace-store.js';

interface TraceRow {
  readonly name: string;
  readonly content: Buffer;
  readonly content_hash: string;
  readonly encoding: TraceEncoding;
  readonly thermocouple_type: ThermocoupleType | null;
  readonly cold_junction_c: number | null;
  readonly by: string;
  readonly at: Date;
}

/** Trace files in Postgres, as the bytes that came: what is kept is what was hashed. */
export class PgTraceStore implements TraceStore {
  constructor(private readonly pool: pg.Pool) {}

  async put(trace: StoredTrace): Promise<'created' | 'same' | 'different'> {
    const { name, contentHash, csv, encoding, voltage, by, at } = trace;
    const { rowCount } = await this.pool.query(
      `INSERT INTO trace (name, content, content_hash, encoding, thermocouple_type, cold_junction_c, by, at)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8) ON CONFLICT (name) DO NOTHING`,
      [
        ...[name, Buffer.from(csv, encoding), contentHash, encoding],
        ...[voltage?.type ?? null, voltage?.coldJunctionC ?? null, by, at],
      ],
    );
    if (rowCount === 1) return 'created';
    // An insert that met another waited for it to commit, and nothing is ever removed: the row is there.
    const { rows } = await this.pool.query<Pick<TraceRow, 'content_hash' | 'thermocouple_type' | 'cold_junction_c'>>(
      `SELECT content_hash, thermocouple_type, cold_junction_c FROM trace WHERE name = $1`,
      [name],
    );
    const [known] = rows;
    if (known === undefined) throw new Error(`trace ${name} is neither new nor known`);
    return isSameTrace({ contentHash: known.content_hash, voltage: voltageOf(known) }, trace) ? 'same' : 'different';
  }

  async get(name: string): Promise<StoredTrace | undefined> {
    return (await this.many([name]))[0];
  }

  async many(names: readonly string[]): Promise<readonly StoredTrace[]> {
    if (names.length === 0) return [];
    const { rows } = await this.pool.query<TraceRow>(
      `SELECT name, content, content_hash, encoding, thermocouple_type, cold_junction_c, by, at
       FROM trace WHERE name = ANY ($1::text[]) ORDER BY name`,
      [names],
    );
    return rows.map(toStored);
  }

  async described(names: readonly string[]): Promise<readonly TraceFacts[]> {
    if (names.length === 0) return [];
    const { rows } = await this.pool.query<Pick<TraceRow, 'name' | 'content_hash' | 'by' | 'at'> & { bytes: number }>(
      `SELECT name, content_hash, by, at, octet_length(content) AS bytes
       FROM trace WHERE name = ANY ($1::text[]) ORDER BY name`,
      [names],
    );
    return rows.map(({ name, content_hash: contentHash, by, at, bytes }) => {
      return { name, contentHash, by, at: at.toISOString(), bytes };
    });
  }

  async subjectsOf(name: string): Promise<readonly StreamKey[]> {
    const { rows } = await this.pool.query<{ subject: string }>(
      `SELECT subject FROM trace_use WHERE trace = $1 ORDER BY subject`,
      [name],
    );
    return rows.map(({ subject }) => subject);
  }
}

function toStored(row: TraceRow): StoredTrace {
  const { name, content, content_hash: contentHash, encoding, by, at } = row;
  const csv = content.toString(encoding);
  return { name, contentHash, csv, encoding, voltage: voltageOf(row), by, at: at.toISOString() };
}

function voltageOf(row: Pick<TraceRow, 'thermocouple_type' | 'cold_junction_c'>): StoredTrace['voltage'] {
  const { thermocouple_type: type, cold_junction_c: coldJunctionC } = row;
  return type === null || coldJunctionC === null ? null : { type, coldJunctionC };
}
