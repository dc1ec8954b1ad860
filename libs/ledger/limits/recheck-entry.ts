import { RecheckMark } from '../../domain/limits/recheck-mark.js';
import { Rechecked } from '../../domain/limits/recheck.js';
import { gravityOf, StandingChange, Gravity } from '../../domain/limits/standing-change.js';
import { Standing } from '../../domain/limits/standing.js';
import { readableTime } from '../../domain/events/event-order.js';
import { Allowed } from '../../domain/limits/limit-rule.js';
import { LimitCitation, citationOf } from '../../domain/limits/resolve-limit.js';
import { StreamKey, Subject } from '../../domain/subject/subject.js';
import { BOOK_ENTRY_TYPES, BookEffect } from '../fold/book-effect.js';
import { ChainWriter } from '../fold/chain-writer.js';
import { SealedEntry } from '../ports/seal.js';

/** How a subject stands, as entries and answers tell it. */
export interface ToldStanding {
  readonly used: number | null;
  readonly allowed: Allowed | null;
  readonly breach: Gravity;
  readonly limit: LimitCitation | null;
}

export interface ToldChange {
  readonly subject: Subject;
  readonly before: ToldStanding;
  readonly after: ToldStanding;
}

/** A unit or device that was judged anew, with the key of its record. */
export interface RecheckedSubject {
  readonly key: StreamKey;
  readonly mark: RecheckMark;
  readonly rechecked: Rechecked;
}

export function toldChange({ subject, before, after }: StandingChange): ToldChange {
  return { subject, before: toldStanding(before), after: toldStanding(after) };
}

function toldStanding(standing: Standing): ToldStanding {
  const { used, limit } = standing;
  return {
    used,
    allowed: limit?.allowed ?? null,
    breach: gravityOf(standing),
    limit: limit === undefined ? null : citationOf(limit),
  };
}

/** Tells in one entry what a revision of a limit changed for subjects of one ledger. `more`: what became of holds. */
export function appendRecheck(
  chain: ChainWriter,
  ledger: StreamKey,
  [first, ...others]: readonly [RecheckedSubject, ...RecheckedSubject[]],
  more: readonly BookEffect[],
): void {
  const all = [first, ...others];
  const { limit, revision, effectiveAt, by, version } = first.mark;
  chain.append({
    subject: ledger,
    type: BOOK_ENTRY_TYPES.limitRechecked,
    time: readableTime(effectiveAt),
    event: null,
    actor: { kind: 'book' },
    data: {
      limit,
      revision,
      by,
      rechecked: all.map(({ key }) => key),
      changes: all.flatMap(({ rechecked }) => rechecked.changes.map(toldChange)),
    },
    effects: [...all.flatMap(({ rechecked }) => rechecked.effects), ...more],
    rules: version,
  });
}

interface RecheckData {
  readonly limit: string;
  readonly revision: number;
  readonly rechecked: readonly StreamKey[];
  readonly changes: readonly ToldChange[];
}

/** What an entry tells of a recheck; undefined where it tells of something else. The book wrote it, so its data fits. */
export function recheckData({ type, data }: SealedEntry): RecheckData | undefined {
  return type === BOOK_ENTRY_TYPES.limitRechecked ? (data as RecheckData) : undefined;
}
