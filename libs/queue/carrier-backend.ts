import type { BackendFactory } from 'bullmq';

/** Connections of one queue or one worker. */
export interface CarrierConnection {
  /** Hands the connections to a BullMQ class. */
  factory: BackendFactory;
  /** Drops whatever of them BullMQ has not closed itself. Never hangs. */
  release(): Promise<void>;
}

/** A store that jobs can travel through. */
export interface CarrierBackend {
  /** For adding jobs: commands fail at once while the store is away. */
  producer: CarrierConnection;
  /** For taking jobs: waits out an outage. A worker needs connections of its own. */
  connectWorker(): CarrierConnection;
  /** Calls `listener` each time the producer has found the store again after losing it. */
  onReturn(listener: () => void): void;
  /** Longest wait of an idle worker before it looks by itself, in seconds. */
  idleLookSeconds: number;
}
