import { StreamKey } from '../../domain/subject/subject.js';
import { BookChanges, BookTransaction, SubjectRecord } from '../ports/book-store.js';
import { SealedEntry } from '../ports/seal.js';
import { BookDeps } from './book-deps.js';
import { ChainWriter } from './chain-writer.js';
import { knownClearances } from './known-clearances.js';
import { knownTraces } from './known-traces.js';
import { reachFully } from './plan-folds.js';
import { Occasion, rebuildGroup } from './rebuild-group.js';

/**
 * Tells the story of these subjects again though no event came: what was learnt about events that stand in the book
 * already may make them look otherwise. Changes are added to the ledgers, with the occasion.
 */
export async function retell(deps: BookDeps, keys: readonly StreamKey[], occasion: Occasion): Promise<void> {
  if (keys.length === 0) return;
  await deps.store.exclusively(async (tx) => {
    await tx.write(await retold(deps, tx, keys, occasion));
  });
}

/**
 * What telling the story again changes, to be written by the caller, who has the whole book to itself.
 * @param enter writes entries that the story is to be told with; it is handed the chain with every ledger's head known.
 */
export async function retold(
  deps: BookDeps,
  tx: BookTransaction,
  keys: readonly StreamKey[],
  occasion: Occasion,
  enter?: (chain: ChainWriter) => SealedEntry,
): Promise<BookChanges> {
  const { setup, seal, clock } = deps;
  await setup.reach(await tx.setupVersion());
  const records = await reachFully({ tx, whole: true }, keys, new Map<StreamKey, SubjectRecord>());
  const reached = records.map(({ key }) => key);
  const stamp = { now: clock.now(), newId: () => deps.newId() };
  const chain = new ChainWriter(seal, stamp.now);
  for (const record of records) chain.know(record);
  const entered = enter?.(chain);
  const own = chain.entries.slice();
  const entries = [...(await tx.entries(reached)), ...(entered === undefined ? [] : [entered])];
  const traces = await knownTraces(deps.traces, entries);
  const holds = await tx.holds(reached);
  const clearances = await knownClearances(tx, entries, reached);
  const input = { events: [], records, holds, entries, traces, clearances, rules: setup.latest(), occasion };
  const changes = rebuildGroup(input, setup, seal, chain, stamp);
  return { ...changes, entries: [...own, ...changes.entries] };
}
