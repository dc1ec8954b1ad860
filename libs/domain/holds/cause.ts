import { EventOrder, refKey } from '../events/event-order.js';
import { LimitCitation, ResolvedLimit } from '../limits/resolve-limit.js';
import { Subject } from '../subject/subject.js';
import { HoldReason } from './hold-reason.js';
import { HoldSubject, holdSubjectKey } from './hold-subject.js';

/** What shows that a stop is called for: figures, words, and the rule that was broken. */
export interface Evidence {
  readonly summary: string;
  readonly used?: number;
  readonly allowed?: ResolvedLimit['allowed'];
  readonly unit?: string;
  readonly limit?: LimitCitation;
  /** The readings, pads, joints or devices that it rests on. */
  readonly details?: readonly string[];
}

/** A fact that calls for a hold on a subject. Equal reason and subject share one hold while it is open. */
export interface Cause {
  readonly reason: HoldReason;
  readonly subject: Subject;
  readonly event: EventOrder;
  /** The unit on which it came to light, for a device that is on one. */
  readonly unit?: { readonly assembly: string; readonly serial: string };
  readonly customer?: string;
  readonly station?: string;
  readonly operator?: string;
  readonly evidence: Evidence;
  /** What would resolve it. */
  readonly remedy: string;
}

export function holdKey(hold: { readonly reason: HoldReason; readonly subject: HoldSubject }): string {
  return `${hold.reason} ${holdSubjectKey(hold.subject)}`;
}

export function causeKey(cause: {
  readonly reason: HoldReason;
  readonly subject: HoldSubject;
  readonly event: { source: string; id: string };
}): string {
  return `${holdKey(cause)} ${refKey(cause.event)}`;
}
