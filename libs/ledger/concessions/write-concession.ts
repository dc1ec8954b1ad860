import { ConcessionData } from '../../domain/setup/setup-data.js';
import { BookDeps } from '../fold/book-deps.js';
import { BookEffect } from '../fold/book-effect.js';
import { ChainWriter } from '../fold/chain-writer.js';
import { BookTransaction, SubjectRecord } from '../ports/book-store.js';

export interface ConcessionEntry {
  readonly id: string;
  /** The concession as it is from now on. */
  readonly body: ConcessionData;
  readonly type: string;
  readonly by: string;
  /** RFC 3339 UTC. */
  readonly at: string;
  /** Besides the concession's id. */
  readonly data: object;
  readonly effect: BookEffect;
}

/** Enters a revision of a concession into the setup, and the entry that tells of it into its subject's ledger. */
export async function writeConcession(
  deps: BookDeps,
  tx: BookTransaction,
  record: SubjectRecord,
  { id, body, type, by, at, data, effect }: ConcessionEntry,
): Promise<void> {
  const { revision, version } = await tx.enterSetup('concession', id, body, by);
  const chain = new ChainWriter(deps.seal, at);
  chain.know(record);
  chain.append({
    subject: record.key,
    type,
    time: at,
    event: null,
    actor: { kind: 'person', name: by },
    data: { concession: id, revision, ...data },
    effects: [effect],
    rules: version,
  });
  const { seq, hash } = chain.head(record.key);
  await tx.write({
    subjects: [{ ...record, headSeq: seq, headHash: hash }],
    entries: chain.entries,
    holds: [],
    done: [],
    parked: [],
    postponed: [],
  });
}
