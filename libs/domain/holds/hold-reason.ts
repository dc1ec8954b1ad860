import { LIMIT_KINDS, LimitKind } from '../limits/limit-rule.js';

const OTHER_REASONS = [
  'event-parked',
  'sequence-broken',
  'identity-conflict',
  'summary-mismatch',
  'damage-found',
  'late-event',
  'shipped-open',
  'by-hand',
] as const;

/** Why a subject is stopped: the kind of limit that broke, or something no limit speaks of. */
export type HoldReason = LimitKind | (typeof OTHER_REASONS)[number];

export const HOLD_REASONS: readonly HoldReason[] = [...LIMIT_KINDS, ...OTHER_REASONS];
