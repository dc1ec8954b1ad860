import { mulberry32 } from '../support/mulberry32.js';

/** Everything in a run that is left to chance, from one seed. */
export class Dice {
  private readonly random: () => number;

  constructor(seed: number) {
    this.random = mulberry32(seed);
  }

  /** A whole number from 0 to below `count`. */
  below(count: number): number {
    return Math.floor(this.random() * count);
  }

  /** True so often, of 1. */
  chance(share: number): boolean {
    return this.random() < share;
  }

  /** @throws Error where the list is empty */
  one<T>(list: readonly T[]): T {
    const found = list[this.below(list.length)];
    if (found === undefined) throw new Error('there is nothing to choose from');
    return found;
  }
}
