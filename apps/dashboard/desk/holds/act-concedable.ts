import type { Schemas } from '../api/client.js';
import type { ExplainedHold } from './hold-shape.js';

type Limit = Schemas['ConcessionBody']['limit'];

/** Limits that a concession can loosen, by what it is for. */
const CONCEDABLE: Readonly<Record<string, readonly Limit[]>> = {
  unit: ['unit-reflows'],
  site: ['site-reworks', 'site-dressings', 'site-excursions', 'pad-copper-min', 'flatness-max', 'void-fraction-max'],
  device: ['device-excursions', 'body-peak-max'],
};

/** What a concession would be about. */
export interface Concedable {
  readonly limit: Limit;
  readonly subject: Schemas['SubjectBody'];
}

/** What could be conceded of a hold; null where its reason is nothing that a customer can loosen. */
export function concedableOf({ subject, reason }: Pick<ExplainedHold, 'subject' | 'reason'>): Concedable | null {
  const limit = CONCEDABLE[subject.kind]?.find((one) => one === reason);
  if (limit === undefined) return null;
  if (subject.kind !== 'unit' && subject.kind !== 'site' && subject.kind !== 'device') return null;
  return { limit, subject };
}
