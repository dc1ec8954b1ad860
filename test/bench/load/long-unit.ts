import pg from 'pg';
import { unitKey } from '../../../libs/domain/subject/subject.js';
import { seal } from '../../../libs/evidence/seal.js';
import { ChainWriter } from '../../../libs/ledger/fold/chain-writer.js';
import { EntryBody } from '../../../libs/ledger/ports/seal.js';
import { PgBookStore } from '../../../libs/postgres/pg-book-store.js';
import { PgReadStore } from '../../../libs/postgres/pg-read-store.js';
import { events, SHOP } from '../../support/small-shop.js';
import { HeatbookProcesses } from '../services/heatbook-processes.js';
import { lineJob } from './line-job.js';
import { sendLanes } from './send-lanes.js';

/** Entries that are written in one transaction. */
const AT_ONCE = 1_000;

/** A unit with more entries than any real board has. */
export interface LongUnit {
  readonly serial: string;
  readonly key: string;
  readonly entries: number;
}

/**
 * Makes a unit with so many entries. The product judges one job on it; the entries that came of that are sealed into its
 * ledger again and again, each for an event of its own, as if the station had told them and nothing had followed.
 */
export async function longUnit(heatbook: HeatbookProcesses, serial: string, entries: number): Promise<LongUnit> {
  const key = unitKey(SHOP.assembly, serial);
  await sendLanes(heatbook.target('batch'), [[JSON.stringify(events(serial, lineJob(`K-${serial}`)))]]);
  await heatbook.applied();
  const pool = new pg.Pool({ connectionString: heatbook.databaseUrl });
  try {
    const judged = await new PgReadStore(pool).ledger(key, { limit: AT_ONCE, order: 'asc', afterSeq: null });
    const store = new PgBookStore(pool);
    for (let written = judged.length; written < entries; written += AT_ONCE) {
      await append(store, key, judged, written, Math.min(entries, written + AT_ONCE));
    }
  } finally {
    await pool.end();
  }
  return { serial, key, entries };
}

async function append(
  store: PgBookStore,
  key: string,
  judged: readonly EntryBody[],
  from: number,
  to: number,
): Promise<void> {
  await store.exclusively(async (tx) => {
    const [record] = await tx.load([key]);
    if (record === undefined) throw new Error(`there is no ${key}`);
    const chain = new ChainWriter(seal, new Date().toISOString());
    chain.know(record);
    for (let n = from; n < to; n += 1) {
      const like = judged[n % judged.length];
      if (like === undefined) throw new Error(`nothing was judged of ${key}`);
      const { subject, type, time, actor, data, effects, rules } = like;
      const event = like.event && { ...like.event, id: `${like.event.id}-${String(n)}` };
      chain.append({ subject, type, time, event, actor, data, effects, rules });
    }
    const { seq, hash } = chain.head(key);
    const subjects = [{ ...record, headSeq: seq, headHash: hash }];
    await tx.write({ subjects, entries: chain.entries, holds: [], done: [], parked: [], postponed: [] });
  });
}
