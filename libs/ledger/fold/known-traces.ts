import { World } from '../../domain/book/state.js';
import { Trace } from '../../domain/trace/trace.js';
import { TraceStore } from '../ports/trace-store.js';
import { traceNamed } from '../traces/trace-named.js';
import { readStoredTrace } from '../traces/read-stored-trace.js';

/** Reads the traces that steps name, as far as they have been uploaded. */
export async function knownTraces(
  store: TraceStore,
  steps: readonly { readonly data: unknown }[],
): Promise<World['traces']> {
  const names = new Set(steps.flatMap(({ data }) => traceNamed(data) ?? []));
  if (names.size === 0) return new Map();
  const traces = new Map<string, Trace>();
  for (const stored of await store.many([...names])) {
    const reading = readStoredTrace(stored);
    // What cannot be read was turned away at its upload.
    if (reading.ok) traces.set(stored.name, reading.trace);
  }
  return traces;
}
