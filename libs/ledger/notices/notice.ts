import { HoldSubject, streamOfHold } from '../../domain/holds/hold-subject.js';

export const NOTICE_KINDS = ['calibration', 'qualification', 'moisture', 'hold-overdue'] as const;
export type NoticeKind = (typeof NOTICE_KINDS)[number];

/** `ahead`: the instant is to come; `due`: it has come. */
export const NOTICE_LEVELS = ['ahead', 'due'] as const;
export type NoticeLevel = (typeof NOTICE_LEVELS)[number];

/** `settled`: the instant was moved or no longer matters, or, of one given ahead, has come. */
export const NOTICE_STATES = ['open', 'acknowledged', 'settled'] as const;
export type NoticeState = (typeof NOTICE_STATES)[number];

/** Something that runs out, or has, and is to be told of. */
export interface Deadline {
  readonly kind: NoticeKind;
  readonly level: NoticeLevel;
  readonly subject: HoldSubject;
  /** What of the subject runs out, where it has several: the skill, or the id of the hold; else empty. */
  readonly item: string;
  /** The true instant, whenever it was noticed. RFC 3339 UTC, ms. */
  readonly dueAt: string;
  readonly detail: string;
  /** What is to be done about it. */
  readonly remedy: string;
}

export interface Acknowledgement {
  readonly by: string;
  /** RFC 3339 UTC. */
  readonly at: string;
  readonly note: string | null;
}

/** A warning that was given, once for a subject, an instant and a level. It stops nothing. */
export interface Notice extends Deadline {
  readonly id: string;
  /** When it was raised in truth: later than it should have been where no worker was up. RFC 3339 UTC. */
  readonly raisedAt: string;
  readonly acknowledgement: Acknowledgement | null;
  readonly settledAt: string | null;
}

export function noticeState({ acknowledgement, settledAt }: Notice): NoticeState {
  if (settledAt !== null) return 'settled';
  return acknowledgement === null ? 'open' : 'acknowledged';
}

/** Equal for what is to be told of once. */
export function noticeKey(notice: Pick<Deadline, 'kind' | 'level' | 'subject' | 'item' | 'dueAt'>): string {
  const { kind, level, subject, item, dueAt } = notice;
  return [kind, streamOfHold(subject), item, dueAt, level].join(' ');
}

/** Which warning an instant asks for now; all times RFC 3339. None while it is far off. */
export function levelAt(now: string, warnsAt: string, dueAt: string): NoticeLevel | undefined {
  const nowMs = Date.parse(now);
  if (nowMs >= Date.parse(dueAt)) return 'due';
  return nowMs >= Date.parse(warnsAt) ? 'ahead' : undefined;
}
