/** How far the clock of this machine is from that of Heatbook. */
export interface ClockOffset {
  /** To be added to the time of this machine to have that of Heatbook, ms. */
  readonly offsetMs: number;
  /** The true offset lies within so many ms of it, as far as the answers do not contradict each other. */
  readonly uncertaintyMs: number;
  /** Answers that it is made of. */
  readonly samples: number;
  /** No offset agrees with all answers: a clock was set, or the server was slow. The uncertainty covers them all. */
  readonly isContradictory: boolean;
}

/** What one answer tells: its header Date, and when it was asked for and came by the clock of this machine, ms since 1970. */
export interface ClockSample {
  readonly sentAtMs: number;
  readonly receivedAtMs: number;
  readonly date: string | null;
}

/** Offsets that an answer leaves possible, ms. */
interface Bounds {
  readonly least: number;
  readonly most: number;
  /** When it came, by a clock that nobody sets, ms. */
  readonly at: number;
}

/** A header Date has whole seconds, cut off. */
const DATE_STEP_MS = 1000;
/** A quartz strays by some 50 ppm, 30 ms in this time. */
const VALID_MS = 10 * 60_000;
const MOST_SAMPLES = 64;
/** A step of this much between two samples means that the clock was set. */
const SET_MS = 250;

/**
 * Learns the offset from answers. The server wrote its Date, cut to a second, at some moment between question and answer: that bounds
 * the offset from both sides, whatever the way took, and answers at different moments of the second narrow the bounds down. The middle
 * of what is left is the estimate, and half its width the uncertainty.
 */
export class ClockEstimate {
  #bounds: Bounds[] = [];
  #wallMinusSteady: number | undefined;

  /** Answers without a Date that can be read teach nothing. */
  add({ sentAtMs, receivedAtMs, date }: ClockSample): void {
    const stampMs = Date.parse(date ?? '');
    if (Number.isNaN(stampMs)) return;
    this.#forgetIfSet();
    const bounds = { least: stampMs - receivedAtMs, most: stampMs + DATE_STEP_MS - sentAtMs, at: performance.now() };
    this.#bounds = [...this.#fresh(), bounds].slice(-MOST_SAMPLES);
  }

  /** Undefined where nothing was learnt in the last ten minutes, or the clock was set since. */
  offset(): ClockOffset | undefined {
    this.#forgetIfSet();
    const fresh = this.#fresh();
    if (fresh.length === 0) return undefined;
    const least = Math.max(...fresh.map((bounds) => bounds.least));
    const most = Math.min(...fresh.map((bounds) => bounds.most));
    if (least <= most) return estimate(least, most, fresh.length, false);
    const hull = [Math.min(...fresh.map((bounds) => bounds.least)), Math.max(...fresh.map((bounds) => bounds.most))];
    return estimate(hull[0] ?? least, hull[1] ?? most, fresh.length, true);
  }

  #fresh(): Bounds[] {
    const now = performance.now();
    return this.#bounds.filter(({ at }) => now - at < VALID_MS);
  }

  #forgetIfSet(): void {
    const wallMinusSteady = Date.now() - performance.now();
    if (this.#wallMinusSteady !== undefined && Math.abs(wallMinusSteady - this.#wallMinusSteady) > SET_MS) {
      this.#bounds = [];
    }
    this.#wallMinusSteady = wallMinusSteady;
  }
}

function estimate(least: number, most: number, samples: number, isContradictory: boolean): ClockOffset {
  return {
    offsetMs: Math.round((least + most) / 2),
    uncertaintyMs: Math.ceil((most - least) / 2),
    samples,
    isContradictory,
  };
}
