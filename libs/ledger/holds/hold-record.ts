import { EventOrder } from '../../domain/events/event-order.js';
import { Evidence } from '../../domain/holds/cause.js';
import { HoldReason } from '../../domain/holds/hold-reason.js';
import { Subject } from '../../domain/subject/subject.js';

/** `withdrawn`: later facts showed that there was no cause, and nobody had worked on it. */
export type HoldState = 'open' | 'released' | 'withdrawn';

export interface HoldRelease {
  readonly by: string;
  /** RFC 3339 UTC. */
  readonly at: string;
  readonly note: string;
}

/** A stop on a subject, with everything that explains it. */
export interface HoldRecord {
  readonly id: string;
  readonly state: HoldState;
  readonly reason: HoldReason;
  readonly subject: Subject;
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
}
