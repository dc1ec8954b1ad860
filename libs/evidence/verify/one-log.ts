import { parseCheckpoint } from '../../ledger/log/notes/checkpoint.js';
import { toHex } from '../../ledger/log/notes/hex.js';
import { parseNote } from '../../ledger/log/notes/signed-note.js';
import type { KeyList } from './key-ring.js';
import { readLog, type ReadLog } from './read-log.js';
import type { ReadExtras } from './read-audit.js';
import { Malformed } from './read-members.js';
import { ofTheFile, type Finding } from './verification-report.js';

/** Whether files are from one log, which showed all of them the same tree. */
export class OneLog {
  /** The longest list of keys that a file has; null as long as none has one. */
  keys: KeyList | null = null;
  readonly #roots = new Map<number, string>();

  /** Takes the log of a file. What is wrong with it alone is found elsewhere. */
  take(extras: ReadExtras): Finding[] {
    const log = readable(extras);
    if (log === null) return [];
    this.keys ??= log;
    if (this.keys.origin !== log.origin) {
      const what = `The file is from the log ${log.origin}, others in the archive from ${this.keys.origin}.`;
      return [ofTheFile('checkpoint-foreign', what)];
    }
    if (this.keys.keys.length < log.keys.length) this.keys = log;
    return this.takeCheckpoint(log.checkpoint);
  }

  takeCheckpoint(note: string): Finding[] {
    const checkpoint = parseCheckpoint(parseNote(note)?.text ?? '');
    if (checkpoint === undefined) return [];
    const root = toHex(checkpoint.root);
    const known = this.#roots.get(checkpoint.size) ?? root;
    this.#roots.set(checkpoint.size, known);
    if (known === root) return [];
    const what = `The log showed two trees of ${checkpoint.size} entries: one to this file, another to others here.`;
    return [ofTheFile('log-forked', what)];
  }
}

function readable(extras: ReadExtras): ReadLog | null {
  try {
    return readLog(extras);
  } catch (error) {
    if (error instanceof Malformed) return null;
    throw error;
  }
}
