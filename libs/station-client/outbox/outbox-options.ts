import { StationError } from '../errors.js';
import { Server } from '../http/call-heatbook.js';
import { RetryPace } from '../http/retry-pause.js';
import { Rejected } from '../spool/set-aside.js';

/** What an attempt that went well came to. */
export interface Delivered {
  readonly accepted: number;
  /** Had been accepted before: as good as accepted. */
  readonly duplicates: number;
  readonly rejected: number;
  /** Events that still wait. */
  readonly pending: number;
}

/** When it goes on after a trouble. */
export interface Retrying {
  /** Failures in a row. */
  readonly failures: number;
  readonly retryInMs: number;
}

export interface OutboxOptions extends Server {
  /** Folder of the spool, on a disk of this machine; made where it is missing. One process at a time has it. */
  readonly spool: string;
  /** `/stations/{station}`: where Heatbook says that the key may not speak for it, sending stops as for a wrong key. */
  readonly source?: string;
  /** Told of each event that Heatbook turned away, once it stands in the file of those set aside. */
  readonly onRejected?: (rejected: Rejected) => void;
  /** Told after each batch that was answered for. */
  readonly onDelivered?: (delivered: Delivered) => void;
  /** Told of each failure; sending goes on by itself. */
  readonly onTrouble?: (error: StationError, retrying: Retrying) => void;
  /** False: events are only looked at as far as sending needs it, and Heatbook alone judges their shape. */
  readonly check?: boolean;
  /** Most events in one request; 1000 where left out, which is the most that Heatbook takes. */
  readonly batchEvents?: number;
  /** Most bytes in one request; 4 MiB where left out. Heatbook takes 8 MiB. */
  readonly batchBytes?: number;
  /** For an answer; 30 s where left out. */
  readonly timeoutMs?: number;
  /** 0.5 s, doubled up to 30 s, where left out. */
  readonly pace?: RetryPace;
  /** Most that may wait on the disk; 1 GiB where left out. */
  readonly maxSpoolBytes?: number;
  /** Size of one file of the spool; 4 MiB where left out. */
  readonly segmentBytes?: number;
}

export interface OutboxStatus {
  /** Events that wait. */
  readonly pending: number;
  readonly pendingBytes: number;
  /** Since when the one that waits longest does, by the clock of this machine; null where none waits. */
  readonly oldestAgeMs: number | null;
  /** Since it was opened. */
  readonly accepted: number;
  readonly duplicates: number;
  readonly rejected: number;
  /** The trouble that is not over; null where the last attempt went well. */
  readonly lastError: StationError | null;
  /** Files of the spool with lines that are damaged and could not be sent. */
  readonly damaged: readonly string[];
}
