import { TryAgain } from '../ports/book-store.js';
import { ReachesFarther } from './plan-folds.js';

const MOST_TRIES = 10;

/**
 * Does work that may meet another transaction: again where that one was first, and with the whole book where it reaches
 * farther than its subjects.
 * @throws TryAgain where it was too late too often.
 */
export async function tryAgain<T>(work: (whole: boolean) => Promise<T>): Promise<T> {
  let whole = false;
  for (let tries = 1; ; tries += 1) {
    try {
      return await work(whole);
    } catch (error) {
      if (error instanceof ReachesFarther) whole = true;
      else if (!(error instanceof TryAgain) || tries >= MOST_TRIES) throw error;
    }
  }
}
