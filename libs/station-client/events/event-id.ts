import { randomBytes } from 'node:crypto';

const MS_DIGITS = 11;
const COUNT_DIGITS = 4;

/**
 * Makes ids that no other process makes, and that sort in the order in which they were made. Heatbook judges events of the same
 * instant in the order of their ids, so of two with the same time the one that was built first comes first.
 */
export class EventIds {
  readonly #tail = randomBytes(8).toString('hex');
  #lastMs = 0;
  #count = 0;

  /** Such as `01936a8b2c4-0000-5f0c9e21d07b3a44`. */
  next(nowMs = Date.now()): string {
    if (nowMs > this.#lastMs) {
      this.#lastMs = nowMs;
      this.#count = 0;
    } else if (++this.#count === 16 ** COUNT_DIGITS) {
      // A clock that is set back must not bring ids that were given before.
      this.#lastMs += 1;
      this.#count = 0;
    }
    return `${hex(this.#lastMs, MS_DIGITS)}-${hex(this.#count, COUNT_DIGITS)}-${this.#tail}`;
  }
}

function hex(value: number, digits: number): string {
  return value.toString(16).padStart(digits, '0');
}
