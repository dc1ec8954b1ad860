import { BookStore } from '../ports/book-store.js';
import { FoldDesk } from './fold-desk.js';

/** Folds what is due though no wake-up told of it. */
export async function sweepIntake(
  store: Pick<BookStore, 'shardsDue'>,
  desk: Pick<FoldDesk, 'fold'>,
  stopped: () => boolean,
): Promise<void> {
  const due = await store.shardsDue();
  if (!stopped()) await Promise.all(due.map((shard) => desk.fold(shard)));
}
