import { Trace } from '../../domain/trace/trace.js';
import { Clock } from '../ports/clock.js';
import { Seal } from '../ports/seal.js';
import { StoredTrace, TraceStore } from '../ports/trace-store.js';
import { readStoredTrace, TraceFault } from './read-stored-trace.js';
import { traceText } from './trace-text.js';

export interface TraceDesk {
  readonly traces: Pick<TraceStore, 'put'>;
  readonly seal: Pick<Seal, 'sha256Hex'>;
  readonly clock: Clock;
}

/** A trace file to be kept under a name. */
export interface KeepTrace extends Pick<StoredTrace, 'name' | 'voltage' | 'by'> {
  readonly bytes: Buffer;
}

/** What was kept and what was read from it. */
export interface KeptTrace {
  readonly stored: StoredTrace;
  readonly trace: Trace;
  readonly loggedIn: 'C' | 'mV';
}

export type TraceKept =
  | ({ readonly outcome: 'created' | 'same' } & KeptTrace)
  /** The name has other bytes, or the same ones read in another way; they stand. */
  | { readonly outcome: 'different' }
  | { readonly outcome: 'unreadable'; readonly faults: readonly TraceFault[] };

/**
 * Keeps a trace file once it is known that it can be read. The hash is over the bytes as they came, so a name stands for
 * one file for ever.
 */
export async function keepTrace({ traces, seal, clock }: TraceDesk, wish: KeepTrace): Promise<TraceKept> {
  const { name, voltage, by, bytes } = wish;
  const text = traceText(bytes);
  const reading = readStoredTrace({ ...text, voltage });
  if (!reading.ok) return { outcome: 'unreadable', faults: reading.faults };
  const stored: StoredTrace = { name, contentHash: seal.sha256Hex(bytes), ...text, voltage, by, at: clock.now() };
  const outcome = await traces.put(stored);
  if (outcome === 'different') return { outcome };
  const { trace, loggedIn } = reading;
  return { outcome, stored, trace, loggedIn };
}
