import { EventRef } from '../../domain/events/event-order.js';
import { StreamKey } from '../../domain/subject/subject.js';

/** An entry by which a cause reached something. */
export interface TouchingEntry {
  /** The ledger that it stands in. */
  readonly ledger: StreamKey;
  readonly seq: number;
  readonly type: string;
  /** When it happened, normalised UTC to the microsecond. */
  readonly at: string;
  readonly event: EventRef;
}

export type TouchedSubject =
  | { readonly kind: 'unit'; readonly assembly: string; readonly serial: string }
  | { readonly kind: 'device'; readonly device: string };

/** A unit, or a loose device, that a cause reached. */
export interface Touched {
  readonly key: StreamKey;
  readonly subject: TouchedSubject;
  readonly customer: string | null;
  readonly state: 'expected' | 'in-house' | 'shipped' | 'scrapped' | 'loose';
  readonly firstAt: string;
  readonly lastAt: string;
  /** How many entries reached it. */
  readonly touches: number;
  /** The first of them, at most `MOST_ENTRIES`, in the order in which they happened. */
  readonly entries: readonly TouchingEntry[];
  /** Devices by which alone or also it was reached, at most `MOST_DEVICES`. */
  readonly through: readonly string[];
}

export const MOST_ENTRIES = 20;
export const MOST_DEVICES = 20;

/** Entries that reached something, by the ledger of the unit or device that they reached. */
export class Touches {
  readonly #byKey = new Map<StreamKey, Map<string, TouchingEntry>>();

  add(key: StreamKey, entry: TouchingEntry): void {
    const known = this.#byKey.get(key) ?? new Map<string, TouchingEntry>();
    known.set(`${entry.ledger} ${entry.seq}`, entry);
    this.#byKey.set(key, known);
  }

  addAll(key: StreamKey, entries: Iterable<TouchingEntry>): void {
    for (const entry of entries) this.add(key, entry);
  }

  keys(): StreamKey[] {
    return [...this.#byKey.keys()];
  }

  has(key: StreamKey): boolean {
    return this.#byKey.has(key);
  }

  of(key: StreamKey): readonly TouchingEntry[] {
    return [...(this.#byKey.get(key)?.values() ?? [])];
  }
}
