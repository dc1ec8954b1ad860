const DAY_MS = 86_400_000;
/** As long before the end as a notice is given of it (docs/guide/timers.md). */
const SOON_MS = 14 * DAY_MS;

interface Qualification {
  readonly skill: string;
  /** RFC 3339. */
  readonly validUntil: string;
}

export interface QualifiedLike {
  readonly name: string;
  readonly qualifications: readonly Qualification[];
}

export type Standing = 'valid' | 'soon' | 'ran-out';

export interface SkillCell {
  readonly standing: Standing;
  readonly validUntil: string;
}

/** How an operator stands in a skill, by the latest date on record for it; undefined where they never had it. */
export function skillCell({ qualifications }: QualifiedLike, skill: string, nowMs: number): SkillCell | undefined {
  const ends = qualifications.filter((one) => one.skill === skill).map(({ validUntil }) => validUntil);
  const [validUntil] = ends.toSorted((a, b) => Date.parse(b) - Date.parse(a));
  if (validUntil === undefined) return undefined;
  const leftMs = Date.parse(validUntil) - nowMs;
  return { standing: leftMs < 0 ? 'ran-out' : leftMs <= SOON_MS ? 'soon' : 'valid', validUntil };
}

/** Every skill that anybody has, or had, in the order of the work. */
export function skillsOf(operators: readonly QualifiedLike[]): readonly string[] {
  const known = new Set(operators.flatMap(({ qualifications }) => qualifications.map(({ skill }) => skill)));
  return [...known].toSorted((a, b) => placeOf(a) - placeOf(b) || (a < b ? -1 : 1));
}

const WORK = ['removal', 'braid', 'vacuum', 'fountain', 'coupon', 'reballing', 'placement', 'touch-up', 'inspection'];

function placeOf(skill: string): number {
  const place = WORK.indexOf(skill);
  return place === -1 ? WORK.length : place;
}
