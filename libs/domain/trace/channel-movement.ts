import { CleanChannel } from './clean-channel.js';
import { at } from './trace.js';

/** How far a channel moved, apart from its noise, C. */
export interface Movement {
  /** Highest less lowest mean of twenty stretches of the log (of all single readings, where it has fewer). */
  readonly movedC: number;
  /** Standard deviation of one reading, from the differences of neighbours. */
  readonly noiseC: number;
}

const STRETCHES = 20;

/** Means over stretches hide noise and dropped readings, but not a heat: nothing that melts solder is that short. */
export function movementOf({ values }: CleanChannel): Movement {
  const stretches = Math.min(STRETCHES, values.length);
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let stretch = 0; stretch < stretches; stretch++) {
    const from = Math.floor((stretch * values.length) / stretches);
    const to = Math.floor(((stretch + 1) * values.length) / stretches);
    let sum = 0;
    for (let index = from; index < to; index++) sum += at(values, index);
    low = Math.min(low, sum / (to - from));
    high = Math.max(high, sum / (to - from));
  }
  let squares = 0;
  for (let index = 1; index < values.length; index++) squares += (at(values, index) - at(values, index - 1)) ** 2;
  return {
    movedC: stretches === 0 ? 0 : high - low,
    noiseC: values.length < 2 ? 0 : Math.sqrt(squares / (values.length - 1) / 2),
  };
}
