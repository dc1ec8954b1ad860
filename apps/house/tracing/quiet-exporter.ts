import type { ReadableSpan, SpanExporter } from '@opentelemetry/sdk-trace-node';
import { Log } from '../../../libs/ledger/ports/log.js';

type Told = Parameters<SpanExporter['export']>[1];

/** Says once that spans are not taken, and once that they are again; those in between are lost, and nobody waits for them. */
export class QuietExporter implements SpanExporter {
  #isAway = false;

  constructor(
    private readonly exporter: SpanExporter,
    private readonly log: Log,
  ) {}

  export(spans: ReadableSpan[], told: Told): void {
    this.exporter.export(spans, (result) => {
      const { error } = result;
      if (error === undefined) this.#took();
      else this.#failed(error);
      told(result);
    });
  }

  async forceFlush(): Promise<void> {
    await this.exporter.forceFlush?.();
  }

  async shutdown(): Promise<void> {
    await this.exporter.shutdown();
  }

  #took(): void {
    if (this.#isAway) this.log.info('Traces are taken again.');
    this.#isAway = false;
  }

  #failed(error: Error): void {
    if (!this.#isAway) this.log.warn('Traces are not taken; spans are thrown away.', { error: error.message });
    this.#isAway = true;
  }
}
