import { LogDelivery, LogLeaf, LogTransaction } from '../ports/log-store.js';
import { inSpan, Span } from '../ports/tracer.js';
import { completedNodes } from './completed-nodes.js';
import { LedgerPlace } from './log-evidence.js';
import { enterFirstKey } from './log-keys.js';
import { LogTrouble, noteFinding } from './log-trouble.js';
import { signCheckpoint } from './sign-checkpoint.js';
import { SiteLogDeps } from './site-log-deps.js';
import { entryLeaf, storedSubtrees } from './stored-subtrees.js';

/** Commits that are taken together, and leaves after which no more are. */
const DELIVERIES = 64;
const LEAVES = 4000;

/**
 * Gives every entry that was committed its place in the log, in the order of the commits of each ledger, and signs a
 * checkpoint where there is a key. Run by any number of processes at once it makes one log; what one is doing the others
 * leave to it.
 */
export async function sequenceLog(deps: SiteLogDeps, stopped: () => boolean = () => false): Promise<void> {
  const { siteLog, tracer } = deps;
  const sinceMs = Date.now();
  let span: Span | undefined;
  try {
    await enterFirstKey(deps);
    let placed = 0;
    for (let more = true; more && !stopped();) {
      const step = await siteLog.alone((tx) => placeSome(deps, tx));
      more = typeof step === 'number';
      if (typeof step === 'number') placed += step;
    }
    // Most looks find nothing: they are no work that anybody would want to see.
    if (placed > 0) span = tracer?.begin('sequence log', { sinceMs, facts: { 'heatbook.entries': placed } });
    // In a transaction of its own: what is signed must have been committed before.
    const signed = await inSpan(span && tracer, 'sign checkpoint', { parent: span?.traceparent }, () =>
      siteLog.alone((tx) => signCheckpoint(deps, tx).then(() => 'signed' as const)),
    );
    span?.end();
    if (signed === 'signed' && deps.signer !== undefined) await noteFinding(deps, 'sequencer', null);
  } catch (error) {
    span?.end(error);
    if (!(error instanceof LogTrouble)) throw error;
    await noteFinding(deps, 'sequencer', error.message);
  }
}

/** @returns how many entries got their place; `done` where nothing waited */
async function placeSome(deps: SiteLogDeps, tx: LogTransaction): Promise<number | 'done'> {
  const taken = await tx.waiting(DELIVERIES, LEAVES);
  if (taken.length === 0) return 'done';
  const fresh = await withoutKnown(deps, tx, taken);
  const { sha256 } = deps;
  const size = await tx.size();
  const leaves = fresh.map((place, n): LogLeaf => ({ ...place, index: size + n }));
  const nodes = await completedNodes(
    sha256,
    storedSubtrees(sha256, tx),
    size,
    leaves.map(({ hash }) => entryLeaf(sha256, hash)),
  );
  await tx.append(
    leaves,
    nodes,
    taken.map(({ number }) => number),
  );
  return leaves.length;
}

/**
 * The entries in their order, without those that have their place already: such a one was taken out of its ledger by
 * somebody and written again, since no ledger has two entries of one number. The daily check finds one that differs.
 */
async function withoutKnown(
  { log }: SiteLogDeps,
  tx: LogTransaction,
  taken: readonly LogDelivery[],
): Promise<readonly LedgerPlace[]> {
  const entries = taken.flatMap((delivery) => delivery.entries);
  const known = new Map((await tx.known(entries)).map((place) => [placeKey(place), place.hash]));
  return entries.filter((place) => {
    const before = known.get(placeKey(place));
    if (before === undefined) known.set(placeKey(place), place.hash);
    else if (before !== place.hash) {
      const { subject, seq } = place;
      log.error(`Entry ${seq} of ${subject} was written again with another content: the log keeps the first.`);
    }
    return before === undefined;
  });
}

function placeKey({ subject, seq }: Pick<LedgerPlace, 'subject' | 'seq'>): string {
  return `${subject} ${seq}`;
}
