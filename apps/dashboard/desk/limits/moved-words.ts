import { allowedWords, unitWords } from './limit-words.js';
import type { Moved } from './what-if-sums.js';

/** What a subject has spent, what is allowed now, and what would be: `2 excursions; allowed 3 now, 1 then`. */
export function figuresInWords({ now, then }: Pick<Moved, 'now' | 'then'>, unit: string): string {
  const used = then.used ?? now.used;
  const has = used === null ? 'not known what it has' : `${rounded(used)} ${unitWords(unit)}`;
  const figures = typeof now.allowed === 'number' && typeof then.allowed === 'number';
  const [before, after] = [now.allowed, then.allowed].map((allowed) =>
    figures ? String(allowed) : allowedWords(allowed, unit),
  );
  return `${has}; allowed ${before ?? ''} now, ${after ?? ''} then`;
}

/** Estimates have more digits than they can be trusted for. */
function rounded(value: number): number {
  return Number(value.toPrecision(3));
}
