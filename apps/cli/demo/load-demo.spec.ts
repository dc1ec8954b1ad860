import { memoryHarness } from '../../../test/support/book-harness.js';
import { loadDemo } from './load-demo.js';

it('gets the answers that it expects, however far behind the fold is', async () => {
  const { deps, reads, setupStore } = await memoryHarness();
  const stations = { heard: () => Promise.resolve() };
  // Nobody folds beside it.
  const loaded = await loadDemo({ book: deps, inbox: deps.store, reads, setupStore, traces: deps.traces, stations });
  expect(loaded).toEqual({ units: 52, events: 725, rejected: 3 });
  expect(await deps.store.shardsDue()).toEqual([]);
});
