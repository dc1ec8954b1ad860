import { LimitKind } from './limit-rule.js';

const STEPS_TO_COME = 'It judges each step as it happens, so another figure counts for steps to come.';
const NOT_KEPT =
  'What was measured is in the ledgers, not among what the book keeps of a subject, so it is judged when it is measured.';

/** Why what the book keeps of a subject is not enough to judge a limit of that kind anew; the others can be judged. */
const NOT_ASSESSED: Partial<Record<LimitKind, string>> = {
  'flatness-max': NOT_KEPT,
  'void-fraction-max': NOT_KEPT,
  'body-peak-max': NOT_KEPT,
  'profile-window': NOT_KEPT,
  'floor-life': STEPS_TO_COME,
  'qualified-operator': STEPS_TO_COME,
  'calibrated-station': STEPS_TO_COME,
  'method-allowed': STEPS_TO_COME,
  'clearance-required': STEPS_TO_COME,
  'guard-band':
    'It says which heats count; what was counted stays as it was counted, and heats to come go by the new one.',
};

/** Why a limit of this kind cannot be judged from what the book keeps of a subject; undefined where it can. */
export function whyNotAssessed(kind: LimitKind): string | undefined {
  return NOT_ASSESSED[kind];
}
