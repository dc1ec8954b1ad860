import { StreamKey } from '../../domain/subject/subject.js';
import { ClearanceRecord } from '../clearances/clearance-record.js';
import { HoldRecord } from '../holds/hold-record.js';
import { SealedEntry } from './seal.js';

/** Reads what is named one by one, as notes of changes name it. What is not there, or not to be seen, is left out. */
export interface ChangedReads {
  /** In the order asked for. */
  entriesAt(places: readonly { readonly subject: StreamKey; readonly seq: number }[]): Promise<readonly SealedEntry[]>;
  /** In whatever order, each once. */
  holdsByIds(ids: readonly string[]): Promise<readonly HoldRecord[]>;
  /** In whatever order, each once. */
  clearancesByIds(ids: readonly string[]): Promise<readonly ClearanceRecord[]>;
}
