import { StreamKey } from '../../domain/subject/subject.js';
import { VoltageInput } from '../../domain/trace/trace-in-celsius.js';

/** How the bytes of a trace are read as text; each gives the same bytes back when the text is encoded again. */
export type TraceEncoding = 'utf8' | 'utf16le' | 'latin1';

/** A trace file as it was uploaded. */
export interface StoredTrace {
  readonly name: string;
  /** Lower-case hex SHA-256 over the uploaded bytes. */
  readonly contentHash: string;
  readonly csv: string;
  /** How to get from `csv` to the uploaded bytes. */
  readonly encoding: TraceEncoding;
  /** How to read it where it is in mV: columns whose header names no unit are mV then, and C where this is null. */
  readonly voltage: VoltageInput | null;
  /** Name of whoever uploaded it. */
  readonly by: string;
  /** RFC 3339 UTC. */
  readonly at: string;
}

/** What is known of a trace without its content. */
export interface TraceFacts extends Pick<StoredTrace, 'name' | 'contentHash' | 'by' | 'at'> {
  /** Of the uploaded file. */
  readonly bytes: number;
}

/** Where trace files are kept. A name is written once; nothing is ever replaced or removed. */
export interface TraceStore {
  /**
   * Keeps a trace under a name that has none. Of several at once for one name, one is `created`.
   * @returns `same` where the name has the same bytes, read in the same way, and `different` where it has others; nothing
   * is kept in either case
   */
  put(trace: StoredTrace): Promise<'created' | 'same' | 'different'>;
  get(name: string): Promise<StoredTrace | undefined>;
  /** Those of the named traces that there are, each once, in order of name. */
  many(names: readonly string[]): Promise<readonly StoredTrace[]>;
  /** As `many`, without the content. */
  described(names: readonly string[]): Promise<readonly TraceFacts[]>;
  /** Subjects whose ledgers have steps that name a trace, sorted, whether it is there or not. */
  subjectsOf(name: string): Promise<readonly StreamKey[]>;
}

/** Whether two uploads say the same: equal bytes, read in the same way. Who sent them, and when, does not matter. */
export function isSameTrace(
  a: Pick<StoredTrace, 'contentHash' | 'voltage'>,
  b: Pick<StoredTrace, 'contentHash' | 'voltage'>,
): boolean {
  return (
    a.contentHash === b.contentHash &&
    a.voltage?.type === b.voltage?.type &&
    a.voltage?.coldJunctionC === b.voltage?.coldJunctionC
  );
}
