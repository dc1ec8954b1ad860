import { Effect } from '../../domain/book/effect.js';
import { Reservation } from '../../domain/clearance/clearance.js';
import { HoldReason } from '../../domain/holds/hold-reason.js';
import { HoldSubject } from '../../domain/holds/hold-subject.js';
import { LimitKind } from '../../domain/limits/limit-rule.js';
import { Subject } from '../../domain/subject/subject.js';
import { Decision, HoldRecord } from '../holds/hold-record.js';

/** What an entry of a ledger may tell besides what its event did. */
export type BookEffect =
  | Effect
  | { kind: 'hold-raised'; hold: string; reason: HoldReason; subject: HoldSubject }
  | { kind: 'hold-released'; hold: string; reason: HoldReason; subject: HoldSubject }
  | { kind: 'hold-disposed'; hold: string; reason: HoldReason; subject: HoldSubject; decision: Decision }
  /** Later facts showed that there was no cause for it. */
  | { kind: 'hold-withdrawn'; hold: string; reason: HoldReason; subject: HoldSubject }
  /** As withdrawn, but a person had worked on it, so it stays and says so. */
  | { kind: 'hold-cause-gone'; hold: string; reason: HoldReason; subject: HoldSubject }
  | { kind: 'clearance-granted'; clearance: string; reserves: readonly Reservation[] }
  | { kind: 'clearance-returned'; clearance: string }
  /** Its time ran out with steps left: what these held back is free again. */
  | { kind: 'clearance-lapsed'; clearance: string }
  | { kind: 'concession-signed'; concession: string; subject: Subject; limit: LimitKind; allowed: number }
  | { kind: 'concession-withdrawn'; concession: string; subject: Subject; limit: LimitKind };

/** What can become of a hold. */
type HoldEffectKind = 'hold-raised' | 'hold-disposed' | 'hold-released' | 'hold-withdrawn' | 'hold-cause-gone';

export function holdEffect<K extends HoldEffectKind>(
  kind: K,
  hold: HoldRecord,
): { kind: K; hold: string; reason: HoldReason; subject: HoldSubject } {
  return { kind, hold: hold.id, reason: hold.reason, subject: hold.subject };
}

/** Entries that the book writes by itself or for a person. */
export const BOOK_ENTRY_TYPES = {
  rejudged: 'heatbook.entry.rejudged.v1',
  deviceMoved: 'heatbook.device.moved.v1',
  holdRaised: 'heatbook.hold.raised.v1',
  holdDisposed: 'heatbook.hold.disposed.v1',
  holdReleased: 'heatbook.hold.released.v1',
  clearanceGranted: 'heatbook.clearance.granted.v1',
  clearanceReturned: 'heatbook.clearance.returned.v1',
  clearanceLapsed: 'heatbook.clearance.lapsed.v1',
  concessionSigned: 'heatbook.concession.signed.v1',
  concessionWithdrawn: 'heatbook.concession.withdrawn.v1',
  annulled: 'heatbook.entry.annulled.v1',
  limitRechecked: 'heatbook.limit.rechecked.v1',
} as const;
