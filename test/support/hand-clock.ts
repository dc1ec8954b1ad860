import { Clock } from '../../libs/ledger/ports/clock.js';

/** A clock that stands still until it is moved. */
export class HandClock implements Clock {
  /** @param ms since the epoch */
  constructor(public ms: number) {}

  now(): string {
    return new Date(this.ms).toISOString();
  }

  pass(ms: number): void {
    this.ms += ms;
  }
}
