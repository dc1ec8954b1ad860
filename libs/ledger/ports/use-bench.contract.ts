import { BookBench, StoresUnderTest } from './book-bench.contract.js';
import { Seal } from './seal.js';

/** Gives an empty book each time. */
export type MakeStores = () => Promise<StoresUnderTest>;

/** A fresh bench for every test of the describe block that calls this. */
export function useBench(make: MakeStores, seal: Seal): () => BookBench {
  let bench: BookBench | undefined;
  beforeEach(async () => {
    bench = new BookBench(await make(), seal);
  });
  afterEach(async () => {
    await bench?.close();
    bench = undefined;
  });
  return () => {
    if (bench === undefined) throw new Error('no test is running');
    return bench;
  };
}
