import { BookDeps } from '../fold/book-deps.js';
import { BookEffect } from '../fold/book-effect.js';
import { ChainWriter } from '../fold/chain-writer.js';
import { ledgerOf } from '../fold/rebuild-group.js';
import { BookTransaction } from '../ports/book-store.js';
import { HoldRecord } from './hold-record.js';

/** What a ledger is told of a person's act on a hold. */
export interface HoldEntry {
  readonly type: string;
  readonly by: string;
  /** RFC 3339 UTC. */
  readonly at: string;
  /** Besides the hold's id. */
  readonly data: object;
  readonly effect: BookEffect;
}

/** Writes a hold as a person changed it, and the entry that tells of it in the ledger it belongs to. */
export async function writeHoldEntry(
  deps: BookDeps,
  tx: BookTransaction,
  hold: HoldRecord,
  entry: HoldEntry,
): Promise<void> {
  const [record] = await tx.load([ledgerOf(hold)]);
  if (record === undefined) throw new Error(`no record of ${ledgerOf(hold)}`);
  const chain = new ChainWriter(deps.seal, entry.at);
  chain.know(record);
  chain.append({
    subject: record.key,
    type: entry.type,
    time: entry.at,
    event: null,
    actor: { kind: 'person', name: entry.by },
    data: { hold: hold.id, ...entry.data },
    effects: [entry.effect],
    rules: await tx.setupVersion(),
  });
  const { seq, hash } = chain.head(record.key);
  await tx.write({
    subjects: [{ ...record, headSeq: seq, headHash: hash }],
    entries: chain.entries,
    holds: [hold],
    done: [],
    parked: [],
    postponed: [],
  });
}
