import type { Schemas } from '../api/client.js';
import { basisWords } from '../words/words.js';

export type Budget = Schemas['Budget'];

/** What is left of a budget, as a figure that is read at first sight. */
export interface LeftInWords {
  readonly figure: string;
  readonly of: string;
  /** `stop`: over the limit; `caution`: nothing left. */
  readonly tone: 'plain' | 'caution' | 'stop';
  /** What makes the figure less than certain; null where nothing does. */
  readonly doubt: string | null;
}

/** What is left, in words: `2` `of 3 left`, `1` `over the 3 allowed`. */
export function leftInWords(budget: Budget): LeftInWords {
  const { allowed, remaining, used } = budget;
  const doubt = doubtOf(budget);
  if (allowed === null || remaining === null)
    return { figure: String(used), of: 'used, no limit', tone: 'plain', doubt };
  if (remaining < 0) return { figure: String(-remaining), of: `over the ${allowed} allowed`, tone: 'stop', doubt };
  return { figure: String(remaining), of: `of ${allowed} left`, tone: remaining === 0 ? 'caution' : 'plain', doubt };
}

function doubtOf({ inputs, possible, rule }: Budget): string | null {
  const doubts = [
    ...(inputs.prior.basis === 'unknown' ? ['before it came: not known'] : []),
    ...(possible > 0 && rule?.countPossible !== true ? [`${possible} more possible`] : []),
  ];
  return doubts.length === 0 ? null : doubts.join('; ');
}

/** What a tally is made of, a line for each ground that it stands on. */
export function inputsInWords({ inputs, possible, reserved, rule }: Budget): readonly string[] {
  const { prior, measured, declared, inferred } = inputs;
  return [
    prior.basis === 'unknown'
      ? 'before it came: not known, nothing counted for it'
      : `${prior.count} before it came, ${basisWords(prior.basis)}`,
    ...(measured > 0 ? [`${measured} measured`] : []),
    ...(declared > 0 ? [`${declared} as the station told it`] : []),
    ...(inferred > 0 ? [`${inferred} inferred from the step`] : []),
    ...(possible > 0 ? [`${possible} possible, ${rule?.countPossible === true ? 'counted too' : 'not counted'}`] : []),
    ...(reserved > 0 ? [`${reserved} reserved by clearances`] : []),
  ];
}

/** What happens beyond a limit. */
export function consequenceOf({ rule }: Budget): string {
  if (rule === null) return 'No limit is in force: it is counted and stops nothing.';
  const beyond =
    rule.action === 'hold' ? 'Beyond it the subject is held.' : 'Beyond it there is a warning; work goes on.';
  return rule.concession === undefined ? beyond : `${beyond} A signed concession loosens it for this subject.`;
}

/** Name of a limit's page, where it has one: a maker's figure belongs to its part. */
export function limitPageOf({ rule }: Budget): string | null {
  return rule === null || rule.name.startsWith('part ') ? null : rule.name;
}

/** What is spent by each kind, short enough for a table. */
export const SHORT_KINDS: Readonly<Record<Budget['limit'], string>> = {
  'device-excursions': 'Excursions',
  'site-excursions': 'Excursions',
  'site-reworks': 'Reworks',
  'site-dressings': 'Dressings',
  'unit-reflows': 'Whole-board reflows',
};
