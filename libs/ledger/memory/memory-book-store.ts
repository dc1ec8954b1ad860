import { orderTime, refKey } from '../../domain/events/event-order.js';
import { shardOf } from '../intake/shard-of.js';
import { LimitRecheck } from '../limits/limit-recheck.js';
import { Acceptance, BookStore, BookTransaction, IncomingEvent } from '../ports/book-store.js';
import { over, readClearances } from './memory-clearances.js';
import { dueRechecks } from './memory-rechecks.js';
import { InboxRow, MemoryTables } from './memory-tables.js';
import { MemoryTransaction } from './memory-transaction.js';
import { RowLocks } from './row-locks.js';
import { roundTrip } from './round-trip.js';
import { ShardGate } from './shard-gate.js';

/** The book's write side in the memory of this process. */
export class MemoryBookStore implements BookStore {
  readonly shards: number;
  readonly #tables: MemoryTables;
  readonly #now: () => string;
  readonly #gate = new ShardGate();
  readonly #locks = new RowLocks();

  constructor(tables: MemoryTables, now: () => string, shards: number) {
    this.#tables = tables;
    this.#now = now;
    this.shards = shards;
  }

  async accept(events: readonly IncomingEvent[]): Promise<readonly Acceptance[]> {
    await roundTrip();
    const receivedAt = this.#now();
    return events.map((event) => this.#acceptOne(event, receivedAt));
  }

  async withShards<T>(
    shards: readonly number[],
    work: (tx: BookTransaction, own: readonly number[]) => Promise<T>,
  ): Promise<T | 'busy'> {
    await roundTrip();
    const own = shards.filter((shard) => this.#gate.tryEnter(shard));
    if (own.length === 0) return 'busy';
    try {
      return await this.#inTransaction((tx) => work(tx, own));
    } finally {
      for (const shard of own) this.#gate.leave(shard);
    }
  }

  async exclusively<T>(work: (tx: BookTransaction) => Promise<T>): Promise<T> {
    await this.#gate.enterWhole();
    try {
      return await this.#inTransaction(work);
    } finally {
      this.#gate.leaveWhole();
    }
  }

  async besideFolds<T>(work: (tx: BookTransaction) => Promise<T>): Promise<T> {
    await this.#gate.enterBeside();
    try {
      return await this.#inTransaction(work);
    } finally {
      this.#gate.leaveBeside();
    }
  }

  async clearancesOver(now: string, limit: number): Promise<readonly { id: string; subject: string }[]> {
    await roundTrip();
    return over(readClearances(this.#tables.clearances.values()), now, limit);
  }

  async forgetAnswers(before: string): Promise<void> {
    await roundTrip();
    const { answers } = this.#tables;
    for (const [request, { at }] of answers) if (orderTime(at) < orderTime(before)) answers.delete(request);
  }

  async rechecksDue(now: string): Promise<readonly LimitRecheck[]> {
    await roundTrip();
    return dueRechecks(this.#tables, now);
  }

  async shardsDue(): Promise<readonly number[]> {
    await roundTrip();
    const nowMs = Date.parse(this.#now());
    return shardsOf(this.#rows().filter(({ state, dueAtMs }) => state === 'pending' && dueAtMs <= nowMs));
  }

  async unpark(ref?: { readonly source: string; readonly id: string }) {
    await roundTrip();
    const now = this.#now();
    const rows = this.#rows().filter(
      (row) => row.state === 'parked' && (ref === undefined || refKey(row) === refKey(ref)),
    );
    for (const row of rows) {
      const pending = { state: 'pending', retried: true, dueAtMs: Date.parse(now), parked: null } as const;
      this.#tables.inbox.set(row.number, { ...row, ...pending });
    }
    return { count: rows.length, shards: shardsOf(rows) };
  }

  #acceptOne(event: IncomingEvent, receivedAt: string): Acceptance {
    const { inbox, numbers } = this.#tables;
    const known = inbox.get(numbers.get(refKey(event)) ?? 0);
    if (known !== undefined) return known.contentHash === event.contentHash ? 'duplicate' : 'conflict';
    const number = inbox.size + 1;
    const { source, id, type, subject, contentHash, payload, request } = event;
    inbox.set(number, {
      ...{ source, id, type, subject, contentHash, payload },
      ...(request && { request: { ...request } }),
      number,
      shard: shardOf(subject, this.shards),
      receivedAt,
      state: 'pending',
      attempts: 0,
      retried: false,
      dueAtMs: Date.parse(receivedAt),
      parked: null,
    });
    numbers.set(refKey(event), number);
    return 'accepted';
  }

  async #inTransaction<T>(work: (tx: BookTransaction) => Promise<T>): Promise<T> {
    const tx = new MemoryTransaction(this.#tables, this.#locks, this.#now);
    try {
      const result = await work(tx);
      await tx.left();
      tx.commit();
      return result;
    } finally {
      tx.end();
    }
  }

  #rows(): InboxRow[] {
    return [...this.#tables.inbox.values()];
  }
}

function shardsOf(rows: readonly InboxRow[]): number[] {
  return [...new Set(rows.map(({ shard }) => shard))].sort((a, b) => a - b);
}
