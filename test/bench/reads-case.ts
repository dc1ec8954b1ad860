import { mulberry32 } from '../support/mulberry32.js';
import { BenchCase, BenchSize, Measure, Note, WantedRatio } from './bench-case.js';
import { askInTurns } from './load/ask-in-turns.js';
import { PageReads, pageReads } from './load/page-reads.js';
import { percentile } from './load/percentile.js';
import { READ_PAGES, ReadPage } from './load/read-pages.js';
import { openServers } from './services/bench-servers.js';
import { OPEN_BOARDS, openShelf } from './services/shelf.js';

const SMALL_ENTRIES = 10_000;
const GOAL = { atMost: 1.5 };

/** What is read of units and holds, in a small book and a large one, by one reader at a time. */
export async function readsCase({ quick }: BenchSize): Promise<BenchCase> {
  const largeEntries = quick ? 300_000 : 10_000_000;
  const requests = quick ? 200 : 500;
  const servers = await openServers();
  const small = await openShelf(`${servers.redisUrl}/0`, SMALL_ENTRIES);
  const large = await openShelf(`${servers.redisUrl}/1`, largeEntries);
  const shelves = [small, large];
  const random = mulberry32(9);
  const before = await Promise.all(shelves.map(({ heatbook }) => pageReads(heatbook.looking)));
  let after = before;
  const medians = new Map<string, number>();
  const measuresOf = ({ name, path, by = 'house' }: ReadPage): Measure[] => {
    let took: number[][] = [];
    const p99 = (n: number): number => percentile(took[n] ?? [], 0.99);
    return [
      {
        name: `${name} p99, small`,
        unit: 'ms',
        take: async () => {
          took = await askInTurns(
            shelves.map((shelf) => {
              const { book } = shelf;
              const serials = Array.from({ length: requests }, () => book.serial(Math.floor(random() * book.units)));
              return { asker: shelf[by], paths: serials.map(path) };
            }),
          );
          for (const [n, size] of ['small', 'large'].entries()) {
            medians.set(`${name} p50, ${size}, last round`, percentile(took[n] ?? [], 0.5));
          }
          return p99(0);
        },
      },
      // Asked in turns with the small one's just before.
      {
        name: `${name} p99, large`,
        unit: 'ms',
        take: async () => {
          after = await Promise.all(shelves.map(({ heatbook }) => pageReads(heatbook.looking)));
          return p99(1);
        },
      },
    ];
  };
  return {
    title: 'reads',
    what: `${String(requests)} requests of each kind a round, for units by chance, of a book of ${String(small.book.entries)} entries and one of ${String(large.book.entries)}, each with ${String(OPEN_BOARDS)} boards at the desk`,
    measures: READ_PAGES.flatMap(measuresOf),
    ratios: READ_PAGES.map(({ name, hasGoal }): WantedRatio => ({
      name: `${name} p99, large/small`,
      of: `${name} p99, large`,
      over: `${name} p99, small`,
      ...(hasGoal && { goal: GOAL }),
    })),
    rounds: quick ? 2 : 5,
    warmUps: 1,
    notes: () => [
      ...[...medians].map(([name, value]): Note => ({ name, unit: 'ms', value })),
      ...shelves.flatMap(({ book, grownMs }, n) => [
        { name: `${nameOf(n)} book: time to grow it`, unit: 's', value: grownMs / 1000 },
        { name: `${nameOf(n)} book: entries`, unit: 'entries', value: book.entries },
        { name: `${nameOf(n)} book: units`, unit: 'units', value: book.units },
        ...sharesOf(nameOf(n), before[n], after[n]),
      ]),
    ],
    close: async () => {
      await Promise.all(shelves.flatMap(({ house, customer }) => [house.client.close(), customer.client.close()]));
      for (const { heatbook } of shelves) await heatbook.close();
      await servers.close();
    },
  };
}

function nameOf(shelf: number): string {
  return shelf === 0 ? 'small' : 'large';
}

function sharesOf(name: string, before: PageReads | undefined, after: PageReads | undefined): Note[] {
  if (before === undefined || after === undefined) return [];
  const percentOf = (part: keyof PageReads): number => ((after[part] - before[part]) / (after.all - before.all)) * 100;
  return [
    { name: `${name} book: of all pages, not in the buffers of the server`, unit: '%', value: percentOf('unbuffered') },
    { name: `${name} book: of all pages, from disk`, unit: '%', value: percentOf('fromDisk') },
  ].filter(({ value }) => !Number.isNaN(value));
}
