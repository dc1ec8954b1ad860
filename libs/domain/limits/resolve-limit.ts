import { Rules } from '../setup/setup-data.js';
import { Allowed, LimitKind, LimitRule, LimitScope } from './limit-rule.js';

/** Where a subject is: what the scope of a limit is matched against. Unknown fields match no scope that names them. */
export interface LimitPlace {
  readonly customer?: string | undefined;
  readonly assembly?: string | undefined;
  readonly part?: string | undefined;
  readonly refdes?: string | undefined;
}

/** A limit as it applies to one subject, with where it comes from. */
export interface ResolvedLimit {
  readonly name: string;
  readonly revision: number;
  readonly kind: LimitKind;
  readonly allowed: Allowed;
  readonly unit: string;
  readonly action: 'hold' | 'warn';
  readonly source: string;
  readonly scope: LimitScope;
  readonly countPossible: boolean;
}

/**
 * The limit of a kind that governs at a place: the one with most scope fields, all of them matching; a tie goes to the
 * stricter. A part's own `maxExcursions` takes part as a limit scoped to that part.
 */
export function resolveLimit(rules: Rules, kind: LimitKind, place: LimitPlace): ResolvedLimit | undefined {
  let best: ResolvedLimit | undefined;
  for (const candidate of candidates(rules, kind, place)) {
    if (best === undefined || outranks(candidate, best)) best = candidate;
  }
  return best;
}

function* candidates(rules: Rules, kind: LimitKind, place: LimitPlace): Generator<ResolvedLimit> {
  for (const { name, revision, body } of rules.limits()) {
    if (body.kind === kind && matches(body.scope, place)) yield resolved(name, revision, body);
  }
  if (kind !== 'device-excursions' || place.part === undefined) return;
  const part = rules.find('part', place.part);
  if (part?.body.maxExcursions === undefined) return;
  yield {
    name: `part ${part.name}`,
    revision: part.revision,
    kind,
    allowed: part.body.maxExcursions,
    unit: 'excursions',
    action: 'hold',
    source: `The maker's figure for part ${part.name}.`,
    scope: { part: part.name },
    countPossible: false,
  };
}

function resolved(name: string, revision: number, rule: LimitRule): ResolvedLimit {
  const { kind, allowed, unit, action, source, scope } = rule;
  return { name, revision, kind, allowed, unit, action, source, scope, countPossible: rule.countPossible === true };
}

const SCOPE_FIELDS = ['customer', 'assembly', 'part', 'refdes'] as const;

function matches(scope: LimitScope, place: LimitPlace): boolean {
  return SCOPE_FIELDS.every((field) => scope[field] === undefined || scope[field] === place[field]);
}

function fieldsOf(scope: LimitScope): number {
  return SCOPE_FIELDS.filter((field) => scope[field] !== undefined).length;
}

function outranks(a: ResolvedLimit, b: ResolvedLimit): boolean {
  const byScope = fieldsOf(a.scope) - fieldsOf(b.scope);
  if (byScope !== 0) return byScope > 0;
  const byFigure = strictness(a) - strictness(b);
  if (byFigure !== 0) return byFigure > 0;
  if (a.action !== b.action) return a.action === 'hold';
  if (a.countPossible !== b.countPossible) return a.countPossible;
  return a.name < b.name;
}

/** Higher is stricter. Every kind but the least copper allows less by a lower figure or a shorter list. */
function strictness(limit: ResolvedLimit): number {
  const { allowed } = limit;
  const size = typeof allowed === 'number' ? allowed : allowed.reduce((sum, row) => sum + weight(row), 0);
  return limit.kind === 'pad-copper-min' || limit.kind === 'guard-band' ? size : -size;
}

function weight(row: string | { readonly max: number }): number {
  return typeof row === 'string' ? 1 : row.max;
}
