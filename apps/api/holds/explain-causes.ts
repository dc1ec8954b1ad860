import { EventOrder, EventRef } from '../../../libs/domain/events/event-order.js';
import { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import { SealedEntry } from '../../../libs/ledger/ports/seal.js';

/** Causes whose entries are shown in full; the others are named. */
const MOST_EXPLAINED = 20;

export interface ExplainedCause {
  readonly source: string;
  readonly id: string;
  /** RFC 3339 UTC. */
  readonly time: string;
  /** What the event did, in whichever ledgers it was entered. */
  readonly entries: readonly SealedEntry[];
}

type Reads = Pick<ReadStore, 'eventStatus' | 'ledger'>;

/** Events with the entries that tell of them. */
export function explainCauses(reads: Reads, causes: readonly EventOrder[]): Promise<ExplainedCause[]> {
  return Promise.all(
    causes.map(async ({ source, id, at }, index) => {
      const entries = index < MOST_EXPLAINED ? await entriesOf(reads, { source, id }) : [];
      return { source, id, time: at, entries };
    }),
  );
}

async function entriesOf(reads: Reads, ref: EventRef): Promise<SealedEntry[]> {
  const status = await reads.eventStatus(ref);
  const found = await Promise.all(
    (status?.entries ?? []).map(({ subject, seq }) => {
      return reads.ledger(subject, { limit: 1, order: 'asc', afterSeq: seq - 1 });
    }),
  );
  return found.flat();
}
