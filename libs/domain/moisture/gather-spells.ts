import { millisecondsBetween } from './moisture-time.js';
import { Air, airKey, GatheredSpells, Spell } from './spell.js';

type Lying = Extract<Spell, { kind: 'unsaid' | 'air' | 'gathered' }>;

/** The newest spells stay apart: a bake that is told late still finds its place among them. */
const KEPT_APART = 8;

/**
 * At most `most` spells (more than ten). Two old neighbours that a part only lay through become one: alike ones (both
 * dry, or both open) first, which loses nothing but their order; then unlike ones, which loses a reset by dry storage.
 * Where even that finds none, the two oldest are forgotten, and what came before counts as unsaid.
 */
export function gatherSpells(spells: readonly Spell[], most: number): readonly Spell[] {
  let kept = spells;
  while (kept.length > most) kept = oneFewer(kept);
  return kept;
}

function oneFewer(spells: readonly Spell[]): readonly Spell[] {
  for (const alike of [true, false]) {
    for (let k = 0; k + 2 + KEPT_APART <= spells.length; k += 1) {
      const [first, second, next] = spells.slice(k, k + 3);
      if (first === undefined || second === undefined || next === undefined) continue;
      if (!lies(first) || !lies(second) || (alike && isDry(first) !== isDry(second))) continue;
      return [...spells.slice(0, k), gathered(first, second, next.from), ...spells.slice(k + 2)];
    }
  }
  const from = spells[0]?.from ?? '';
  return [{ kind: 'unsaid', from }, ...spells.slice(2)];
}

function lies(spell: Spell): spell is Lying {
  return spell.kind === 'unsaid' || spell.kind === 'air' || spell.kind === 'gathered';
}

function isDry(spell: Lying): boolean {
  if (spell.kind === 'gathered') return spell.dry;
  return spell.kind === 'air' && spell.air.columnPct <= 10;
}

function gathered(first: Lying, second: Lying, until: string): GatheredSpells {
  const a = asGathered(first, second.from);
  const b = asGathered(second, until);
  const sums = new Map<string, { air: Air; ms: number }>();
  for (const { air, ms } of [...a.entries, ...b.entries]) {
    const key = airKey(air);
    sums.set(key, { air, ms: (sums.get(key)?.ms ?? 0) + ms });
  }
  const entries = [...sums.values()].sort((x, y) => x.air.columnPct - y.air.columnPct);
  return { kind: 'gathered', from: a.from, dry: a.dry && b.dry, unsaidMs: a.unsaidMs + b.unsaidMs, entries };
}

function asGathered(spell: Lying, until: string): GatheredSpells {
  if (spell.kind === 'gathered') return spell;
  const ms = millisecondsBetween(spell.from, until);
  const { from } = spell;
  if (spell.kind === 'unsaid') return { kind: 'gathered', from, dry: false, unsaidMs: ms, entries: [] };
  return { kind: 'gathered', from, dry: isDry(spell), unsaidMs: 0, entries: [{ air: spell.air, ms }] };
}
