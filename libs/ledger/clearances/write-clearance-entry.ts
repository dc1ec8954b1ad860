import { BookEffect } from '../fold/book-effect.js';
import { ChainWriter } from '../fold/chain-writer.js';
import { SubjectRecord } from '../ports/book-store.js';
import { ClearanceRecord } from './clearance-record.js';
import { BookWork } from './settle-subject.js';

/** Who asked for a clearance or gave it back. */
export interface ClearanceActor {
  readonly kind: 'station' | 'person';
  /** Of the station, or of the account. */
  readonly name: string;
}

/** Writes a clearance as it is now, and the entry that tells of it in the ledger of its unit or loose device. */
export async function writeClearanceEntry(
  { deps, tx }: BookWork,
  record: Omit<SubjectRecord, 'state'>,
  clearance: ClearanceRecord,
  entry: {
    readonly type: string;
    /** When it happened, and when it is written; RFC 3339 UTC. */
    readonly time: string;
    readonly recordedAt: string;
    /** Left out where the book does it by itself. */
    readonly actor?: ClearanceActor;
    readonly data: object;
    readonly effect: BookEffect;
  },
): Promise<void> {
  const { type, time, recordedAt, actor, data, effect } = entry;
  const chain = new ChainWriter(deps.seal, recordedAt);
  chain.know(record);
  chain.append({
    subject: record.key,
    ...{ type, time, event: null, data, effects: [effect] },
    actor: actorOf(actor, clearance),
    rules: deps.setup.latest().version,
  });
  const { seq, hash } = chain.head(record.key);
  await tx.write({
    // What its entries add up to is as before.
    ...{ subjects: [], heads: [{ key: record.key, headSeq: seq, headHash: hash }] },
    entries: chain.entries,
    ...{ holds: [], clearances: [clearance], done: [], parked: [], postponed: [] },
  });
}

function actorOf(actor: ClearanceActor | undefined, { operator }: ClearanceRecord): object {
  if (actor === undefined) return { kind: 'book' };
  if (actor.kind === 'person') return { kind: 'person', name: actor.name };
  return { kind: 'station', station: actor.name, operator };
}
