import { EventOrder } from '../events/event-order.js';
import { LimitKind } from './limit-rule.js';

/**
 * That a subject was judged anew because a revision of a limit came into force. It stands in the subject's state, so
 * that a story that is told again is judged anew at the same place.
 */
export interface RecheckMark {
  readonly limit: string;
  readonly kind: LimitKind;
  readonly revision: number;
  /** The setup that it was judged under. */
  readonly version: number;
  /** When the revision came into force, normalised. */
  readonly effectiveAt: string;
  /** Its place among the subject's facts: `effectiveAt`, or just after the last fact that was known by then. */
  readonly at: string;
  /** Who entered the revision. */
  readonly by: string;
}

/** The causes and warnings of a recheck are told as of an event of the book's own. */
export function recheckOrder({ limit, revision, at }: Pick<RecheckMark, 'limit' | 'revision' | 'at'>): EventOrder {
  return { at, source: '/book/limits', id: `${limit}@${String(revision)}` };
}

/**
 * The place of a recheck among a subject's facts: when the revision came into force, or, where facts from after that are
 * known already, a nanosecond after the last of them.
 */
export function placeOfRecheck(effectiveAt: string, last: EventOrder | null): string {
  return last === null || last.at < effectiveAt ? effectiveAt : justAfter(last.at);
}

function justAfter(at: string): string {
  const nanos = Number(at.slice(20, 29)) + 1;
  if (nanos < 1e9) return `${at.slice(0, 20)}${String(nanos).padStart(9, '0')}Z`;
  const next = new Date(Date.parse(`${at.slice(0, 19)}Z`) + 1000);
  return `${next.toISOString().slice(0, 19)}.000000000Z`;
}
