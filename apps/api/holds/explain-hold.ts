import { HoldRecord } from '../../../libs/ledger/holds/hold-record.js';
import { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import { SealedEntry } from '../../../libs/ledger/ports/seal.js';
import { HoldView, holdView } from '../../../libs/ledger/views/hold-view.js';

/** Causes whose entries are shown in full; the others are named. */
const MOST_EXPLAINED = 20;

interface ExplainedCause {
  readonly source: string;
  readonly id: string;
  /** RFC 3339 UTC. */
  readonly time: string;
  /** What the event did, in whichever ledgers it was entered. */
  readonly entries: readonly SealedEntry[];
}

/** A hold with everything that explains it. */
export interface ExplainedHold extends HoldView {
  /** Events that call for it, in the order in which they happened. */
  readonly causes: readonly ExplainedCause[];
  /** A person has worked on it, so the rules do not take it back by themselves. */
  readonly touched: boolean;
}

export async function explainHold(
  reads: Pick<ReadStore, 'eventStatus' | 'ledger'>,
  hold: HoldRecord,
): Promise<ExplainedHold> {
  const causes = await Promise.all(
    hold.causes.map(async ({ source, id, at }, index) => {
      const entries = index < MOST_EXPLAINED ? await entriesOf(reads, { source, id }) : [];
      return { source, id, time: at, entries };
    }),
  );
  return { ...holdView(hold), causes, touched: hold.touched };
}

async function entriesOf(
  reads: Pick<ReadStore, 'eventStatus' | 'ledger'>,
  ref: { source: string; id: string },
): Promise<SealedEntry[]> {
  const status = await reads.eventStatus(ref);
  const found = await Promise.all(
    (status?.entries ?? []).map(({ subject, seq }) => {
      return reads.ledger(subject, { limit: 1, order: 'asc', afterSeq: seq - 1 });
    }),
  );
  return found.flat();
}
