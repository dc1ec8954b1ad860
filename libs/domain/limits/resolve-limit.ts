import { orderTime } from '../events/event-order.js';
import { ConcessionData, Rules, SetupRevision } from '../setup/setup-data.js';
import { Subject, subjectKey } from '../subject/subject.js';
import { Allowed, LimitKind, LimitScope } from './limit-rule.js';
import { isLeast, loosened } from './loosened.js';

/**
 * Where a subject is: what the scope of a limit is matched against. Unknown fields match no scope that names them. Which
 * revision is in force goes by `at`, and a concession is for one `subject`.
 */
export interface LimitPlace {
  readonly customer?: string | undefined;
  readonly assembly?: string | undefined;
  readonly part?: string | undefined;
  readonly refdes?: string | undefined;
  /** Left out where a limit is asked for that no concession is to loosen. */
  readonly subject?: Subject | undefined;
  /** When it happened, normalised (`orderTime`). */
  readonly at: string;
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
  /** Id of the concession by which more is allowed here; `source` then names the customer's reference. */
  readonly concession?: string;
}

/** How a limit is cited by what was judged under it. */
export type LimitCitation = Pick<ResolvedLimit, 'name' | 'revision' | 'source' | 'concession'>;

export function citationOf({ name, revision, source, concession }: ResolvedLimit): LimitCitation {
  return { name, revision, source, ...(concession !== undefined && { concession }) };
}

/**
 * The limit of a kind that governs at a place: the one with most scope fields, all of them matching; a tie goes to the
 * stricter. A part's own `maxExcursions` takes part as a limit scoped to that part. A concession for the subject then
 * takes the place of what the limit allows, where that is looser.
 */
export function resolveLimit(rules: Rules, kind: LimitKind, place: LimitPlace): ResolvedLimit | undefined {
  let best: ResolvedLimit | undefined;
  for (const candidate of candidates(rules, kind, place)) {
    if (best === undefined || outranks(candidate, best)) best = candidate;
  }
  return best === undefined || place.subject === undefined ? best : conceded(rules, best, place.subject, place.at);
}

/** The revision of a limit in force at a time: the newest of those that had taken effect by then. */
export function revisionInForce(
  revisions: readonly SetupRevision<'limit'>[],
  at: string,
): SetupRevision<'limit'> | undefined {
  return revisions.find(({ body: { effectiveFrom } }) => effectiveFrom === undefined || orderTime(effectiveFrom) <= at);
}

/** Several concessions for one subject and limit do not add up: the loosest counts, and of equal ones the first by id. */
function conceded(rules: Rules, limit: ResolvedLimit, subject: Subject, at: string): ResolvedLimit {
  let best = limit;
  for (const { name, body } of rules.concessions(subjectKey(subject))) {
    if (body.limit !== limit.kind || body.withdrawn || orderTime(body.from) > at) continue;
    const allowed = loosened(limit.kind, limit.allowed, body.allowed);
    if (allowed === undefined) continue;
    const next = { ...limit, allowed, source: `${limit.source} ${sayConceded(subject, body)}`, concession: name };
    const byFigure = strictness(best) - strictness(next);
    if (byFigure > 0 || (byFigure === 0 && best.concession !== undefined && name < best.concession)) best = next;
  }
  return best;
}

/** A device may go to a board of another customer, who is not told in whose words it was conceded. */
function sayConceded({ kind }: Subject, { customerReference }: ConcessionData): string {
  return kind === 'device'
    ? 'Conceded to this device by a customer, as the concession says.'
    : `Conceded to this ${kind} by the customer: ${customerReference}.`;
}

function* candidates(rules: Rules, kind: LimitKind, place: LimitPlace): Generator<ResolvedLimit> {
  for (const revisions of rules.limits(kind)) {
    const found = revisionInForce(revisions, place.at);
    if (found !== undefined && matches(found.body.scope, place)) yield resolved(found);
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

function resolved({ name, revision, body }: SetupRevision<'limit'>): ResolvedLimit {
  const { kind, allowed, unit, action, source, scope } = body;
  return { name, revision, kind, allowed, unit, action, source, scope, countPossible: body.countPossible === true };
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
  return isLeast(limit.kind) ? size : -size;
}

function weight(row: string | { readonly max: number }): number {
  return typeof row === 'string' ? 1 : row.max;
}
