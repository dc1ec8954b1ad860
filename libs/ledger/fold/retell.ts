import { StreamKey } from '../../domain/subject/subject.js';
import { SubjectRecord } from '../ports/book-store.js';
import { BookDeps } from './book-deps.js';
import { ChainWriter } from './chain-writer.js';
import { knownTraces } from './known-traces.js';
import { reachFully } from './plan-folds.js';
import { rebuildGroup } from './rebuild-group.js';

/**
 * Tells the story of these subjects again though no event came: what was learnt about events that stand in the book
 * already may make them look otherwise. Changes are added to the ledgers, with the occasion.
 */
export async function retell(
  deps: BookDeps,
  keys: readonly StreamKey[],
  occasion: { readonly trace: string },
): Promise<void> {
  if (keys.length === 0) return;
  const { store, setup, seal, clock } = deps;
  await store.exclusively(async (tx) => {
    await setup.reach(await tx.setupVersion());
    const records = await reachFully({ tx, whole: true }, keys, new Map<StreamKey, SubjectRecord>());
    const reached = records.map(({ key }) => key);
    const stamp = { now: clock.now(), newId: () => deps.newId() };
    const entries = await tx.entries(reached);
    const traces = await knownTraces(deps.traces, entries);
    const holds = await tx.holds(reached);
    const input = { events: [], records, holds, entries, traces, rules: setup.latest(), occasion };
    await tx.write(rebuildGroup(input, setup, seal, new ChainWriter(seal, stamp.now), stamp));
  });
}
