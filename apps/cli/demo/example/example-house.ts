import { seal } from '../../../../libs/evidence/seal.js';
import { BookDeps } from '../../../../libs/ledger/fold/book-deps.js';
import { foldShard } from '../../../../libs/ledger/fold/fold-shard.js';
import { acceptEvents } from '../../../../libs/ledger/intake/accept-events.js';
import { InboxBatcher } from '../../../../libs/ledger/intake/inbox-batcher.js';
import { readBatch } from '../../../../libs/ledger/intake/read-events.js';
import { sequenceLog } from '../../../../libs/ledger/log/sequence-log.js';
import { takeCensus } from '../../../../libs/ledger/log/take-census.js';
import { memoryBook, MemoryBook } from '../../../../libs/ledger/memory/memory-book.js';
import { Log } from '../../../../libs/ledger/ports/log.js';
import { enterHouseLimits } from '../../../../libs/ledger/setup/house-setup.js';
import { SetupBook } from '../../../../libs/ledger/setup/setup-book.js';
import { openSiteLog, OpenSiteLog } from '../../../house/open-site-log.js';
import { DemoPost } from '../demo-post.js';
import { DemoHouse } from '../load-demo.js';
import { StationCloudEvent } from '../../../../libs/simulator/station-cloud-event.js';
import { EXAMPLE_ORIGIN, exampleKey } from './example-key.js';

const silent: Log = { info: () => undefined, warn: () => undefined, error: () => undefined };

/** So many that hardly two subjects share one: each can then be folded by itself. */
const SHARDS = 65_536;

/** A station's word is in the book so long after it happened, unless it is told late. */
const TELLING_MS = 20_000;

/**
 * A house without a database, whose clock stands where it is put and whose ids are counted: the same acts make the same book
 * every time, to the byte.
 */
export class ExampleHouse implements DemoHouse {
  readonly inbox: InboxBatcher;
  readonly reads: MemoryBook['read'];
  readonly setupStore: MemoryBook['setup'];
  readonly traces: MemoryBook['traces'];
  readonly stations: MemoryBook['stations'];
  /** Shards that are left to the end of the shift. */
  private readonly waiting = new Set<number>();

  private constructor(
    readonly book: BookDeps,
    readonly stores: MemoryBook,
    readonly log: OpenSiteLog,
    private readonly hand: { ms: number },
  ) {
    this.inbox = new InboxBatcher(stores.book);
    this.reads = stores.read;
    this.setupStore = stores.setup;
    this.traces = stores.traces;
    this.stations = stores.stations;
  }

  /** @param at when it opens, RFC 3339 */
  static async open(at: string): Promise<ExampleHouse> {
    const hand = { ms: Date.parse(at) };
    const clock = { now: () => new Date(hand.ms).toISOString() };
    const stores = memoryBook({ now: clock.now, shards: SHARDS });
    const setup = new SetupBook(stores.setup);
    await enterHouseLimits(stores.setup, setup);
    let ids = 0;
    const newId = (): string => `00000000-0000-4000-9000-${String(++ids).padStart(12, '0')}`;
    const book: BookDeps = { store: stores.book, traces: stores.traces, setup, seal, clock, newId, log: silent };
    const queue = { add: () => Promise.resolve() };
    const parts = { store: stores.book, reads: stores.read, seal, clock, log: silent, queue };
    const log = await openSiteLog(stores.siteLog, { signingKey: exampleKey(), origin: EXAMPLE_ORIGIN }, parts);
    return new ExampleHouse(book, stores, log, hand);
  }

  /** Puts the clock on; it never goes back. @param at RFC 3339 */
  reach(at: string): void {
    this.hand.ms = Math.max(this.hand.ms, Date.parse(at));
  }

  /** What a station says is heard soon after it happened, and folded. @throws Error where it is not taken */
  async tell(event: StationCloudEvent, heardAt?: string): Promise<void> {
    const reading = readBatch(JSON.stringify([event]));
    if (!reading.ok) throw new Error(`the example cannot be read: ${reading.problem.detail}`);
    this.reach(heardAt ?? after(event.time));
    const deps = { inbox: this.inbox, seal, wake: () => undefined };
    const { items } = await acceptEvents(deps, reading.items, { maySpeakFor: () => true });
    if (items[0]?.state !== 'accepted') throw new Error(`the example is turned away: ${JSON.stringify(items[0])}`);
    await this.fold();
  }

  /**
   * Folds a post at once where it tells of this subject, so that its entries are written when they would have been. What
   * tells of others waits for the end of the shift, as it does when the demo is loaded into a book.
   */
  async heard({ events }: DemoPost, subject: string): Promise<void> {
    for (const { event } of events) this.reach(after(String(event['time'])));
    const due = (await this.book.store.shardsDue()).filter((shard) => !this.waiting.has(shard));
    if (events.some(({ event }) => event['subject'] === subject)) {
      for (const shard of due) await foldShard(this.book, shard);
    } else {
      for (const shard of due) this.waiting.add(shard);
    }
  }

  /** Ends a day: the log is signed, and what it has is counted. @param at of the next day, RFC 3339 */
  async endDay(at: string): Promise<void> {
    this.reach(at);
    await sequenceLog(this.log.logDeps);
    await takeCensus(this.log.logDeps);
    await sequenceLog(this.log.logDeps);
  }

  private async fold(): Promise<void> {
    for (const shard of await this.book.store.shardsDue()) await foldShard(this.book, shard);
  }
}

function after(time: string): string {
  return new Date(Date.parse(time) + TELLING_MS).toISOString();
}
