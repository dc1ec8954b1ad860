import fc from 'fast-check';
import { makeDemo } from '../../apps/cli/demo/make-demo.js';
import { mulberry32 } from '../support/mulberry32.js';
import { BookHarness, memoryHarness, postgresHarness } from '../support/book-harness.js';
import { Picture } from '../support/book-picture.js';

/** Enters the demo's setup, posts its events in the given order and chunks, and draws what the book then says. */
async function bookOf(harness: BookHarness, chunks: readonly (readonly object[])[], workers = 1): Promise<Picture> {
  for (const { kind, name, body } of makeDemo().setup) await harness.setupStore.revise(kind, name, body, 'demo');
  for (const chunk of chunks) {
    await harness.post(chunk);
    await harness.fold(workers);
  }
  return harness.picture();
}

/** Events that the demo expects to be taken in. */
function facts(): readonly object[] {
  return makeDemo().posts.flatMap(({ events }) =>
    events.flatMap((item) => (item.expected === 'accepted' ? [item.event] : [])),
  );
}

function inChunks<T>(items: readonly T[], size: number): T[][] {
  return Array.from({ length: Math.ceil(items.length / size) }, (_, n) => items.slice(n * size, (n + 1) * size));
}

/** The same shuffle for the same seed, so that a failure is replayed by the numbers it prints. */
function shuffled<T>(items: readonly T[], seed: number): T[] {
  const random = mulberry32(seed);
  const order = items.map((item) => ({ item, place: random() }));
  return order.sort((a, b) => a.place - b.place).map(({ item }) => item);
}

async function withBook<T>(make: () => Promise<BookHarness>, use: (book: BookHarness) => Promise<T>): Promise<T> {
  const harness = await make();
  try {
    return await use(harness);
  } finally {
    await harness.close();
  }
}

describe('the same facts give the same book', () => {
  let inOneBatch: Picture;

  beforeAll(async () => {
    inOneBatch = await withBook(postgresHarness, (book) => bookOf(book, inChunks(facts(), 1000)));
  });

  it('has something in it', () => {
    expect(Object.keys(inOneBatch.units).length).toBeGreaterThanOrEqual(40);
    expect(inOneBatch.holds.length).toBeGreaterThan(5);
  });

  it('in memory as on Postgres', async () => {
    const inMemory = await withBook(memoryHarness, (book) => bookOf(book, inChunks(facts(), 1000)));
    expect(inMemory).toEqual(inOneBatch);
  });

  it('whether events come together or one by one', async () => {
    const oneByOne = await withBook(memoryHarness, (book) => bookOf(book, inChunks(facts(), 1)));
    expect(oneByOne).toEqual(inOneBatch);
  });

  it('in whatever order they arrive, doubled, in chunks of any size', async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer(), fc.integer({ min: 1, max: 80 }), async (seed, size) => {
        const doubled = inChunks(shuffled(facts(), seed), size).flatMap((chunk, n) =>
          n % 3 === 0 ? [chunk, chunk] : [chunk],
        );
        expect(await withBook(memoryHarness, (book) => bookOf(book, doubled))).toEqual(inOneBatch);
      }),
      { numRuns: 4 },
    );
  }, 120_000);

  it('shuffled, through two workers on Postgres', async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer(), async (seed) => {
        const order = inChunks(shuffled(facts(), seed), 60);
        expect(await withBook(postgresHarness, (book) => bookOf(book, order, 2))).toEqual(inOneBatch);
      }),
      { numRuns: 2 },
    );
  }, 120_000);
});
