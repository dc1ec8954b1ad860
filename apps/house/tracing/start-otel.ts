import { OTLPTraceExporter } from '@opentelemetry/exporter-trace-otlp-http';
import { resourceFromAttributes } from '@opentelemetry/resources';
import {
  BatchSpanProcessor,
  NodeTracerProvider,
  ParentBasedSampler,
  TraceIdRatioBasedSampler,
} from '@opentelemetry/sdk-trace-node';
import { TracingConfig } from '../../../libs/config/load-config.js';
import { Log } from '../../../libs/ledger/ports/log.js';
import { OtelTracer } from './otel-tracer.js';
import { QuietExporter } from './quiet-exporter.js';
import { Tracing } from './tracing.js';

/** One try to send may take so long; the next ones wait in the queue meanwhile, or are thrown away. */
const EXPORT_TIMEOUT_MS = 5_000;
/** A stop waits no longer for the last spans. */
const CLOSE_TIMEOUT_MS = 2_000;
const EVERY_MS = 2_000;
/** Spans that wait to be sent: some MB at most. What is more is thrown away. */
const MOST_WAITING = 4_096;

/** Imported only where traces are asked for: nothing that makes or sends spans is loaded otherwise. */
export function startOtel({ endpoint, ratio }: TracingConfig, service: string, log: Log): Tracing {
  const exporter = new OTLPTraceExporter({ url: `${endpoint}/v1/traces`, timeoutMillis: EXPORT_TIMEOUT_MS });
  const provider = new NodeTracerProvider({
    resource: resourceFromAttributes({ 'service.name': service }),
    // Whoever begins a trace decides for all of it.
    sampler: new ParentBasedSampler({ root: new TraceIdRatioBasedSampler(ratio) }),
    spanProcessors: [
      new BatchSpanProcessor(new QuietExporter(exporter, log), {
        maxQueueSize: MOST_WAITING,
        scheduledDelayMillis: EVERY_MS,
        exportTimeoutMillis: EXPORT_TIMEOUT_MS,
      }),
    ],
  });
  return {
    tracer: new OtelTracer(provider.getTracer('heatbook')),
    close: async () => {
      const late = new Promise<void>((resolve) => setTimeout(resolve, CLOSE_TIMEOUT_MS).unref());
      await Promise.race([provider.shutdown().catch(() => undefined), late]);
    },
  };
}
