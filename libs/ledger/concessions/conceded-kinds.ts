import { LimitKind } from '../../domain/limits/limit-rule.js';
import { Subject } from '../../domain/subject/subject.js';

/**
 * The limits that a concession can be about, by the kind of subject that spends or breaks them. The lead limit is the
 * law's and no customer's to waive: where an exemption applies, the house revises the limit for that assembly.
 */
const KINDS = {
  unit: ['unit-reflows'],
  site: ['site-reworks', 'site-dressings', 'site-excursions', 'pad-copper-min', 'flatness-max', 'void-fraction-max'],
  device: ['device-excursions', 'body-peak-max'],
} as const satisfies Record<Subject['kind'], readonly LimitKind[]>;

export const CONCEDED_KINDS: readonly LimitKind[] = [...KINDS.unit, ...KINDS.site, ...KINDS.device];

export function concededKinds(subject: Subject): readonly LimitKind[] {
  return KINDS[subject.kind];
}
