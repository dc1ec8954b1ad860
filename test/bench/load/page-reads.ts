import { readFile } from 'node:fs/promises';
import pg from 'pg';

/** Pages of 8 kB that one database has been asked for since its server started. */
export interface PageReads {
  readonly all: number;
  /** Those that were not in the server's own buffers. */
  readonly unbuffered: number;
  /** Those of them that were not in memory at all, as far as the system tells; NaN where it does not. */
  readonly fromDisk: number;
}

const PAGE_BYTES = 8_192;

/** What is asked for by connections that have ended is told of the first two only: take differences while none ends. */
export async function pageReads(client: pg.Client): Promise<PageReads> {
  await client.query('SELECT pg_stat_clear_snapshot()');
  const { rows } = await client.query<{ hit: string; read: string }>(
    `SELECT blks_hit AS hit, blks_read AS read FROM pg_stat_database WHERE datname = current_database()`,
  );
  const { rows: backends } = await client.query<{ pid: number }>(
    `SELECT pid FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()`,
  );
  const bytes = await Promise.all(backends.map(({ pid }) => bytesFromDisk(pid)));
  const { hit = '0', read = '0' } = rows[0] ?? {};
  return {
    all: Number(hit) + Number(read),
    unbuffered: Number(read),
    fromDisk: bytes.reduce((sum, one) => sum + one, 0) / PAGE_BYTES,
  };
}

async function bytesFromDisk(pid: number): Promise<number> {
  const told = await readFile(`/proc/${String(pid)}/io`, 'utf8').catch(() => '');
  return Number(/^read_bytes: (\d+)$/m.exec(told)?.[1] ?? NaN);
}
