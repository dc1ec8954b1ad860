import { IntervalHistogram, monitorEventLoopDelay } from 'node:perf_hooks';
import { Gauge, Registry } from 'prom-client';
import { FigureSource } from './figures.js';

/** How often it is looked whether the event loop is late; shorter delays are not seen. */
const RESOLUTION_MS = 20;
/** What was seen is told again for so long, so that two who ask see the same. */
const WINDOW_MS = 5_000;

/** How the process itself is. */
export class ProcessFigures implements FigureSource {
  readonly #delays: IntervalHistogram = monitorEventLoopDelay({ resolution: RESOLUTION_MS });
  readonly #delay: Gauge<'quantile'>;
  readonly #memory: Gauge;
  #readAtMs = -Infinity;

  constructor(registry: Registry) {
    this.#delay = new Gauge({
      name: 'heatbook_event_loop_delay_seconds',
      help: 'By how much the event loop was late since it was last asked, in steps of 20 ms.',
      labelNames: ['quantile'],
      registers: [registry],
    });
    this.#memory = new Gauge({
      name: 'process_resident_memory_bytes',
      help: 'Resident memory.',
      registers: [registry],
    });
    new Gauge({
      name: 'process_start_time_seconds',
      help: 'When the process began, s since 1970.',
      registers: [registry],
    }).set(Math.round(Date.now() / 1000 - process.uptime()));
    this.#delays.enable();
  }

  refresh(): Promise<void> {
    this.#memory.set(process.memoryUsage.rss());
    if (performance.now() - this.#readAtMs > WINDOW_MS) {
      this.#readAtMs = performance.now();
      for (const [quantile, nanoseconds] of this.#late()) this.#delay.set({ quantile }, nanoseconds / 1e9);
      this.#delays.reset();
    }
    return Promise.resolve();
  }

  close(): void {
    this.#delays.disable();
  }

  /** The time between two looks is counted as delay: what is above it was late. */
  #late(): readonly (readonly [quantile: string, nanoseconds: number])[] {
    const late = (nanoseconds: number): number =>
      this.#delays.count === 0 ? 0 : Math.max(0, nanoseconds - RESOLUTION_MS * 1e6);
    return [
      ['0.5', late(this.#delays.percentile(50))],
      ['0.99', late(this.#delays.percentile(99))],
      ['1', late(this.#delays.max)],
    ];
  }
}
