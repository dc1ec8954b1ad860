import { TracingConfig } from '../../../libs/config/load-config.js';
import { Log } from '../../../libs/ledger/ports/log.js';
import { Tracing } from './tracing.js';

const NO_TRACING: Tracing = { tracer: undefined, close: () => Promise.resolve() };

/** @param service what this process is called in traces */
export async function openTracing(config: TracingConfig | undefined, service: string, log: Log): Promise<Tracing> {
  if (config === undefined) return NO_TRACING;
  const { startOtel } = await import('./start-otel.js');
  return startOtel(config, service, log);
}
