import { LimitRule } from '../../domain/limits/limit-rule.js';
import { whyNotAssessed } from '../../domain/limits/assessable.js';
import { revisionInForce } from '../../domain/limits/resolve-limit.js';
import { BookDeps } from '../fold/book-deps.js';
import { BookTransaction } from '../ports/book-store.js';
import { aboardOf, devicesOf } from './aboard-of.js';
import { effectiveAt, isOvertaken, LimitRevision } from './effective-at.js';
import { isOver, LimitRecheck } from './limit-recheck.js';
import { PageInput, recheckPage } from './recheck-page.js';
import { reachOf } from './scope-reach.js';

/** Units, or loose devices, that are judged anew in one transaction; folds wait so long. */
const PAGE = 200;

/**
 * Judges anew what is in the house, for every revision of a limit that has come into force and was not gone through
 * yet. Each page is a transaction with its progress, so that whoever goes on after a stop goes on there, and no subject
 * is judged anew twice for one revision.
 */
export async function recheckLimits(deps: BookDeps, stopped: () => boolean = () => false): Promise<void> {
  for (const { limit, revision } of await deps.store.rechecksDue(deps.clock.now())) {
    while (!stopped()) {
      if ((await recheckNext(deps, limit, revision)) === 'over') break;
    }
  }
}

async function recheckNext(deps: BookDeps, limit: string, number: number): Promise<'more' | 'over'> {
  return deps.store.exclusively(async (tx) => {
    const progress = await tx.limitRecheck(limit, number);
    if (progress === undefined || isOver(progress)) return 'over';
    const version = progress.version ?? (await tx.setupVersion());
    await deps.setup.reach(version);
    const revisions = deps.setup.revisions('limit', limit).flatMap((one) => (one.kind === 'limit' ? [one] : []));
    const revision = revisions.find((one) => one.revision === number);
    if (revision === undefined) throw new Error(`limit ${limit} has no revision ${String(number)}`);
    const now = deps.clock.now();
    const begun = { ...progress, version, startedAt: progress.startedAt ?? now, state: 'running' } as const;
    const next = { deps, tx, revision, revisions, progress: begun };
    const written = whyNone(revision, revisions, begun) ?? (await nextPage(next));
    if ('why' in written) {
      await keep(tx, { ...begun, state: 'none', why: written.why, finishedAt: now });
      return 'over';
    }
    return written.end ? 'over' : 'more';
  });
}

function whyNone(
  revision: LimitRevision,
  revisions: readonly LimitRevision[],
  { version }: LimitRecheck & { readonly version: number },
): { readonly why: string } | undefined {
  const why = whyNotAssessed(revision.body.kind);
  if (why !== undefined) return { why };
  const known = revisions.filter((one) => one.version <= version);
  return isOvertaken(revision, known)
    ? { why: 'A later revision took its place before it came into force.' }
    : undefined;
}

interface NextPage {
  readonly deps: BookDeps;
  readonly tx: BookTransaction;
  readonly revision: LimitRevision;
  readonly revisions: readonly LimitRevision[];
  readonly progress: LimitRecheck & { readonly version: number };
}

async function nextPage(next: NextPage): Promise<{ readonly end: boolean }> {
  const { deps, tx, progress } = next;
  const { phase, after } = progress;
  const rules = deps.setup.at(progress.version);
  const from = effectiveAt(next.revision);
  const reach = reachOf(scopesOf(next, from));
  const ofDevices = next.revision.body.kind === 'device-excursions';
  const skipped = phase === 'device' && !(ofDevices && reach.loose);
  const page = skipped ? [] : await tx.openKeys(phase, after, PAGE);
  const found = await tx.load([], page);
  const inScope = phase === 'device' ? found : found.filter(({ state }) => reach.unit(rules, state));
  const aboard = ofDevices && phase === 'unit' ? await tx.load([], inScope.flatMap(devicesOf)) : [];
  const keys = (ofDevices && phase === 'unit' ? aboardOf(inScope, aboard) : inScope).map(({ key }) => key);
  const records = [...inScope, ...aboard];
  const holds = keys.length === 0 ? [] : await tx.holds(records.map(({ key }) => key));
  const input: PageInput = {
    ...{ revision: next.revision, effectiveAt: from, version: progress.version },
    ...{ rules, records, keys, holds },
  };
  const now = deps.clock.now();
  const { changes, counts } = recheckPage(input, deps.seal, { now, newId: () => deps.newId() });
  const full = page.length === PAGE;
  const end = !full && phase === 'device';
  await tx.write({
    ...changes,
    recheck: {
      ...advanced(progress, counts),
      ...(full ? { after: page.at(-1) ?? null } : { phase: 'device', after: null }),
      ...(end && { state: 'done', finishedAt: now }),
    },
  });
  return { end };
}

/** Scopes of the revision and of the one that it took the place of: nothing outside of both stands otherwise. */
function scopesOf({ revision, revisions }: NextPage, at: string): LimitRule['scope'][] {
  const earlier = revisions.filter((one) => one.revision < revision.revision).reverse();
  const before = revisionInForce(earlier, at);
  return [revision.body.scope, ...(before === undefined ? [] : [before.body.scope])];
}

function advanced(progress: LimitRecheck, counts: ReturnType<typeof recheckPage>['counts']): LimitRecheck {
  return {
    ...progress,
    subjects: progress.subjects + counts.subjects,
    holdsRaised: progress.holdsRaised + counts.holdsRaised,
    holdsWithdrawn: progress.holdsWithdrawn + counts.holdsWithdrawn,
    holdsMarked: progress.holdsMarked + counts.holdsMarked,
    warnings: progress.warnings + counts.warnings,
  };
}

function keep(tx: BookTransaction, recheck: LimitRecheck): Promise<void> {
  return tx.write({ subjects: [], entries: [], holds: [], done: [], parked: [], postponed: [], recheck });
}
