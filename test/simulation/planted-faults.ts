import { refKey } from '../../libs/domain/events/event-order.js';
import { MemoryTables } from '../../libs/ledger/memory/memory-tables.js';
import { BookChanges, BookStore, BookTransaction, Standing } from '../../libs/ledger/ports/book-store.js';
import { overlaid } from './overlaid.js';
import { PlantedFault } from './planted-fault.js';
import { NEVER } from './sim-process.js';

/** Wrong products, each as somebody could come to write it. The simulation is there to catch them. */
export const PLANTED_FAULTS: readonly PlantedFault[] = [
  {
    name: 'answers for events before they are committed',
    inbox: (inbox) => ({
      accept: (events) => {
        inbox.accept(events).catch(() => undefined);
        return Promise.resolve(events.map(() => 'accepted'));
      },
    }),
  },
  { name: 'counts on wake-ups alone, without a sweep', isUnswept: true },
  {
    name: 'takes a repeated event for a new one',
    store: (store, tables) =>
      overlaid(store, {
        accept: (events) => {
          for (const event of events) tables.numbers.delete(refKey(event));
          return store.accept(events);
        },
      }),
  },
  {
    name: 'settles the inbox before the commit of the fold',
    store: (store, tables) =>
      overTransactions(store, (tx) => ({
        write: (changes) => {
          for (const number of changes.done) setApplied(tables, number);
          return tx.write({ ...changes, done: [] });
        },
      })),
  },
  {
    name: 'settles the inbox in a commit of its own, after that of the fold',
    store: (store, tables, process) => {
      const settled = new WeakMap<BookTransaction, readonly string[]>();
      return overTransactions(
        store,
        (tx) => ({
          write: (changes) => {
            settled.set(tx, changes.done);
            return tx.write({ ...changes, done: [] });
          },
        }),
        async (tx) => {
          await process.step('settles');
          for (const number of settled.get(tx) ?? []) setApplied(tables, number);
        },
      );
    },
  },
  {
    name: 'grants without counting what others have reserved',
    store: (store) =>
      overTransactions(store, (tx) => ({
        standing: async (asked) => withoutClearances(await tx.standing(asked)),
        pendingOrStanding: async (keys, asked) => {
          const found = await tx.pendingOrStanding(keys, asked);
          return found.pending === undefined ? { standing: withoutClearances(found.standing) } : found;
        },
      })),
  },
  {
    name: 'reads what is reserved before it has the lock',
    store: (store, tables) =>
      overTransactions(store, (tx) => {
        const seen = new Set(tables.clearances.keys());
        const asSeen = (standing: Standing): Standing => ({
          ...standing,
          clearances: standing.clearances.filter(({ id }) => seen.has(id)),
        });
        return {
          standing: async (asked) => asSeen(await tx.standing(asked)),
          pendingOrStanding: async (keys, asked) => {
            const found = await tx.pendingOrStanding(keys, asked);
            return found.pending === undefined ? { standing: asSeen(found.standing) } : found;
          },
        };
      }),
  },
  {
    name: 'forgets what it answered to a request',
    store: (store) => overTransactions(store, () => ({ answerBefore: () => Promise.resolve(undefined) })),
  },
  {
    name: 'writes holds in a commit of their own, after that of the fold',
    store: (store, tables, process) => {
      const raised = new WeakMap<BookTransaction, BookChanges['holds']>();
      return overTransactions(
        store,
        (tx) => ({
          write: (changes) => {
            raised.set(tx, changes.holds);
            return tx.write({ ...changes, holds: [] });
          },
        }),
        async (tx) => {
          await process.step('writes holds');
          for (const hold of raised.get(tx) ?? []) tables.holds.set(hold.id, JSON.stringify(hold));
        },
      );
    },
  },
  {
    name: 'tells of a lapse as often as somebody finds it',
    store: (store) =>
      overTransactions(store, (tx) => ({
        clearances: async (ids) => (await tx.clearances(ids)).map((one) => ({ ...one, lapsedAt: null })),
      })),
  },
  {
    name: 'keeps the locks of a transaction whose process died',
    store: (store, _tables, process) =>
      overlaid(store, {
        withShards: (shards, work) =>
          store.withShards(shards, (tx, own) =>
            work(tx, own).catch((error: unknown) => {
              if (!process.isUp) return NEVER;
              throw error;
            }),
          ),
      }),
  },
  {
    name: 'takes deliveries out of the inbox of the log before their places are committed',
    log: (log, tables) =>
      overlaid(log, {
        alone: (work) =>
          log.alone((tx) =>
            work(
              overlaid(tx, {
                append: (leaves, nodes, delivered) => {
                  tables.log.inbox = tables.log.inbox.filter(({ number }) => !delivered.includes(number));
                  return tx.append(leaves, nodes, delivered);
                },
              }),
            ),
          ),
      }),
  },
];

function withoutClearances(standing: Standing): Standing {
  return { ...standing, clearances: [] };
}

function setApplied(tables: MemoryTables, number: string): void {
  const row = tables.inbox.get(Number(number));
  if (row !== undefined) tables.inbox.set(row.number, { ...row, state: 'applied' });
}

/** The store with other transactions. @param after what is done when one has been committed */
function overTransactions(
  store: BookStore,
  over: (tx: BookTransaction) => Partial<BookTransaction>,
  after: (tx: BookTransaction) => Promise<void> = () => Promise.resolve(),
): BookStore {
  return overlaid(store, {
    withShards: async <T>(
      shards: readonly number[],
      work: (tx: BookTransaction, own: readonly number[]) => Promise<T>,
    ): Promise<T | 'busy'> => {
      let begun: BookTransaction | undefined;
      const result = await store.withShards(shards, (tx, own) => work(overlaid((begun = tx), over(tx)), own));
      if (begun !== undefined) await after(begun);
      return result;
    },
    besideFolds: (work) => whole((given) => store.besideFolds(given), work),
    exclusively: (work) => whole((given) => store.exclusively(given), work),
  });

  async function whole<T>(
    begin: (work: (tx: BookTransaction) => Promise<T>) => Promise<T>,
    work: (tx: BookTransaction) => Promise<T>,
  ): Promise<T> {
    let begun: BookTransaction | undefined;
    const result = await begin((tx) => work(overlaid((begun = tx), over(tx))));
    if (begun !== undefined) await after(begun);
    return result;
  }
}
