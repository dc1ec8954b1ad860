import { EventOrder } from '../../domain/events/event-order.js';
import { Evidence } from '../../domain/holds/cause.js';
import { HoldReason } from '../../domain/holds/hold-reason.js';
import { HoldSubject } from '../../domain/holds/hold-subject.js';
import { Signature } from '../signing/signature.js';

/** `withdrawn`: later facts showed that there was no cause, and nobody had worked on it. */
export type HoldState = 'open' | 'released' | 'withdrawn';

export const DECISIONS = ['use-as-is', 'rework', 'repair', 'scrap', 'return-to-customer'] as const;
/** What quality decides about what is held. */
export type Decision = (typeof DECISIONS)[number];

/** A decision about a hold. A later one takes its place; both stay on record. */
export interface Disposition {
  readonly id: string;
  readonly decision: Decision;
  /** What was found, and what is to be done. */
  readonly note: string;
  readonly signature: Signature;
  /** Signed by somebody with role approver. */
  readonly approved: boolean;
}

export interface HoldRelease {
  readonly by: string;
  /** RFC 3339 UTC. */
  readonly at: string;
  readonly note: string;
  /** Null where it was released before there were signatures. */
  readonly signature: Signature | null;
  /** Signed by somebody with role approver. */
  readonly approved: boolean;
  /** The cause was gone by then and nothing had been decided: it ends what there was no reason for. */
  readonly withoutCause: boolean;
}

export interface HoldComment {
  readonly by: string;
  /** RFC 3339 UTC. */
  readonly at: string;
  readonly text: string;
}

/** A stop on a subject, with everything that explains it. */
export interface HoldRecord {
  readonly id: string;
  readonly state: HoldState;
  readonly reason: HoldReason;
  readonly subject: HoldSubject;
  /** The unit on which it came to light; for a hold on a loose device, none. */
  readonly unit: { readonly assembly: string; readonly serial: string } | null;
  readonly customer: string | null;
  readonly station: string | null;
  readonly operator: string | null;
  /** When it was written into the book, RFC 3339 UTC. */
  readonly raisedAt: string;
  /** Who raised it: a person, or null for the rules. */
  readonly raisedBy: string | null;
  /** Events that call for it, in the order in which they happened. Empty for one raised by hand. */
  readonly causes: readonly EventOrder[];
  readonly evidence: Evidence;
  readonly remedy: string;
  /** A person has worked on it, so the rules do not take it back by themselves. */
  readonly touched: boolean;
  /** Later facts showed that there was no cause, but a person had worked on it. */
  readonly causeGone: boolean;
  readonly release: HoldRelease | null;
  /** In the order in which they were signed; the last one is in force. */
  readonly dispositions: readonly Disposition[];
  /** Who works on it: the name of an account. */
  readonly assignee: string | null;
  /** When it is to be closed, RFC 3339. */
  readonly dueAt: string | null;
  readonly comments: readonly HoldComment[];
  /** The containment that raised it. */
  readonly containment: string | null;
}

/** What a hold is before anybody has worked on it. */
export const UNWORKED = {
  release: null,
  dispositions: [],
  assignee: null,
  dueAt: null,
  comments: [],
  containment: null,
} as const satisfies Partial<HoldRecord>;

/** The decision in force. */
export function decisionOn(hold: Pick<HoldRecord, 'dispositions'>): Decision | undefined {
  return hold.dispositions.at(-1)?.decision;
}
