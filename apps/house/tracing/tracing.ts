import { Tracer } from '../../../libs/ledger/ports/tracer.js';

/** Where the spans of a process go, and how that ends. */
export interface Tracing {
  /** Undefined where nothing is traced. */
  readonly tracer: Tracer | undefined;
  /** Sends what is left, for a short while. Never throws. */
  close(): Promise<void>;
}
