import type { ExplainedHold } from './hold-shape.js';

type Rule = NonNullable<ExplainedHold['rule']>;
type Allowed = Rule['allowed'];

/** Kinds whose figure must at least be there. */
const LEAST: readonly string[] = ['pad-copper-min'];

/** A figure with its unit, as it is said on the floor: shares in percent, um as µm. */
export function figureInWords(figure: number, unit: string): string {
  if (unit.startsWith('share of ')) return `${trim(figure * 100)} % of ${unit.slice('share of '.length)}`;
  return `${trim(figure)} ${unitInWords(unit)}`;
}

/** `um` as µm, `C …` as °C …. */
export function unitInWords(unit: string): string {
  if (unit === 'um') return 'µm';
  return unit === 'C' || unit.startsWith('C ') ? `°${unit}` : unit;
}

/** What a rule allows: `at most 3 excursions`, `at least 10 µm`, or its table by pitch. */
export function allowedInWords(kind: string, allowed: Allowed, unit: string): string {
  if (typeof allowed === 'number') {
    if (allowed === 0) return `no ${unitInWords(unit)}`;
    return `at ${LEAST.includes(kind) ? 'least' : 'most'} ${figureInWords(allowed, unit)}`;
  }
  const rows = allowed.map((row) =>
    typeof row === 'string' ? row : `${figureInWords(row.max, unit)} at ${trim(row.pitchMm)} mm pitch`,
  );
  return allowed.every((row) => typeof row === 'string') ? `only ${rows.join(', ')}` : `at most ${rows.join(', ')}`;
}

const SCOPE_WORDS: Readonly<Record<string, string>> = {
  customer: 'customer',
  assembly: 'assembly',
  part: 'part',
  refdes: 'site',
};

/** Whom a rule is for. */
export function scopeInWords(scope: Readonly<Record<string, string>>): string {
  const fields = Object.entries(scope).map(([field, value]) => `${SCOPE_WORDS[field] ?? field} ${value}`);
  return fields.length === 0 ? 'the whole house' : fields.join(', ');
}

/** At most four digits behind the point, and none that say nothing. */
function trim(figure: number): string {
  return String(Number(figure.toFixed(4)));
}
