import { Gauge } from 'prom-client';
import { within } from '../../../libs/queue/within.js';
import { FigureSource } from './figures.js';

export interface LookSettings {
  /** What was looked up is told again for so long: two who ask are no more work than one. */
  readonly keepMs: number;
  /** A look that takes longer counts as one that failed. */
  readonly patienceMs: number;
}

export const LOOK_SETTINGS: LookSettings = { keepMs: 5_000, patienceMs: 1_000 };

/** Something that figures come from. */
export interface Part {
  readonly name: string;
  /** Every figure of it: those without labels, and those with. */
  readonly plain: readonly Gauge[];
  readonly labelled: readonly Gauge[];
  /** Looks; what it returns puts the figures in place. */
  look(): Promise<() => void>;
}

/**
 * Looks at a part of the house, for a bounded time and never twice at once. While it does not answer there are no figures of it,
 * in place of old ones, and `heatbook_part_up` is nought.
 */
export class TimedLook implements FigureSource {
  #at: { readonly sinceMs: number; readonly done: Promise<boolean> } | undefined;
  #freshUntilMs = -Infinity;

  /** @param nowMs a clock that only goes forward */
  constructor(
    private readonly part: Part,
    private readonly up: Gauge<'part'>,
    private readonly settings: LookSettings,
    private readonly nowMs: () => number = () => performance.now(),
  ) {
    this.#blank();
  }

  async refresh(): Promise<void> {
    if (this.nowMs() < this.#freshUntilMs) return;
    const { sinceMs, done } = (this.#at ??= this.#begin());
    const leftMs = sinceMs + this.settings.patienceMs - this.nowMs();
    const isUp = leftMs > 0 && (await within(done, leftMs, this.part.name).catch(() => false));
    if (!isUp) this.#blank();
  }

  #begin() {
    const sinceMs = this.nowMs();
    const done = this.#look(sinceMs).catch(() => false);
    return { sinceMs, done: done.finally(() => (this.#at = undefined)) };
  }

  async #look(sinceMs: number): Promise<boolean> {
    const set = await this.part.look();
    const nowMs = this.nowMs();
    // Somebody has been told meanwhile that there is no answer.
    if (nowMs - sinceMs > this.settings.patienceMs) return false;
    set();
    this.up.set({ part: this.part.name }, 1);
    this.#freshUntilMs = nowMs + this.settings.keepMs;
    return true;
  }

  #blank(): void {
    this.up.set({ part: this.part.name }, 0);
    // Reset, one without labels would begin again with a nought.
    for (const gauge of this.part.plain) gauge.remove();
    for (const gauge of this.part.labelled) gauge.reset();
  }
}
