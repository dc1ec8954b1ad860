import { Effect } from '../../domain/book/effect.js';
import { HoldReason } from '../../domain/holds/hold-reason.js';
import { HoldSubject } from '../../domain/holds/hold-subject.js';
import { HoldRecord } from '../holds/hold-record.js';

/** What an entry of a ledger may tell besides what its event did. */
export type BookEffect =
  | Effect
  | { kind: 'hold-raised'; hold: string; reason: HoldReason; subject: HoldSubject }
  | { kind: 'hold-released'; hold: string; reason: HoldReason; subject: HoldSubject }
  /** Later facts showed that there was no cause for it. */
  | { kind: 'hold-withdrawn'; hold: string; reason: HoldReason; subject: HoldSubject }
  /** As withdrawn, but a person had worked on it, so it stays and says so. */
  | { kind: 'hold-cause-gone'; hold: string; reason: HoldReason; subject: HoldSubject };

export function holdEffect(
  kind: Exclude<BookEffect['kind'], Effect['kind']>,
  hold: HoldRecord,
): Extract<BookEffect, { hold: string }> {
  return { kind, hold: hold.id, reason: hold.reason, subject: hold.subject };
}

/** Entries that the book writes by itself or for a person. */
export const BOOK_ENTRY_TYPES = {
  rejudged: 'heatbook.entry.rejudged.v1',
  deviceMoved: 'heatbook.device.moved.v1',
  holdRaised: 'heatbook.hold.raised.v1',
  holdReleased: 'heatbook.hold.released.v1',
} as const;
