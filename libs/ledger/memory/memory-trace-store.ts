import { isSameTrace, StoredTrace, TraceFacts, TraceStore } from '../ports/trace-store.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { EntryBody } from '../ports/seal.js';
import { traceNamed } from '../traces/trace-named.js';
import { traceBytes } from '../traces/trace-text.js';
import { MemoryTables } from './memory-tables.js';
import { roundTrip } from './round-trip.js';

/** Trace files in the memory of this process. */
export class MemoryTraceStore implements TraceStore {
  readonly #tables: MemoryTables;

  constructor(tables: MemoryTables) {
    this.#tables = tables;
  }

  async put(trace: StoredTrace): Promise<'created' | 'same' | 'different'> {
    await roundTrip();
    const known = this.#read(trace.name);
    if (known !== undefined) return isSameTrace(known, trace) ? 'same' : 'different';
    this.#tables.traces.set(trace.name, JSON.stringify(trace));
    return 'created';
  }

  async get(name: string): Promise<StoredTrace | undefined> {
    await roundTrip();
    return this.#read(name);
  }

  async many(names: readonly string[]): Promise<readonly StoredTrace[]> {
    await roundTrip();
    return [...new Set(names)].sort().flatMap((name) => this.#read(name) ?? []);
  }

  async described(names: readonly string[]): Promise<readonly TraceFacts[]> {
    const traces = await this.many(names);
    return traces.map((trace) => {
      const { name, contentHash, by, at } = trace;
      return { name, contentHash, by, at, bytes: traceBytes(trace).length };
    });
  }

  async subjectsOf(name: string): Promise<readonly StreamKey[]> {
    await roundTrip();
    const using = [...this.#tables.ledgers.values()].filter(({ entries }) =>
      entries.some(({ bytes }) => traceNamed((JSON.parse(bytes) as EntryBody).data) === name),
    );
    return using.map(({ key }) => key).sort();
  }

  #read(name: string): StoredTrace | undefined {
    const row = this.#tables.traces.get(name);
    return row === undefined ? undefined : (JSON.parse(row) as StoredTrace);
  }
}
