import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Problem, Unreachable } from '../../../libs/station-client/errors.js';
import { Server } from '../../../libs/station-client/http/call-heatbook.js';
import { openOutbox, Outbox } from '../../../libs/station-client/outbox/outbox.js';
import { PostedItem } from './read-posted.js';

/** An event that is not in the book, and why. */
export interface NotPosted {
  /** Where it stands in what was posted; empty for one that waited in the spool from before. */
  readonly where: string;
  readonly id: string | null;
  readonly problem: Problem;
}

/** What became of what was posted. */
export interface Posted {
  accepted: number;
  duplicates: number;
  readonly rejected: NotPosted[];
}

export interface PosterOptions extends Server {
  /** A folder that outlives this process; one of its own, that goes with it, where left out. */
  readonly spool?: string;
  /** Told of trouble in words; sending goes on. */
  readonly trouble: (words: string) => void;
  /** Told after each batch: of so many events known so far, so many are answered for. */
  readonly progress: (done: number, known: number) => void;
}

/** Counts what becomes of events, and knows where each stood. */
class Tally {
  private posted: Posted = { accepted: 0, duplicates: 0, rejected: [] };
  private places = new Map<string, string>();

  get done(): number {
    return this.posted.accepted + this.posted.duplicates + this.posted.rejected.length;
  }

  place(event: EventName, where: string): void {
    this.places.set(keyOf(event), where);
  }

  unfit(rejected: NotPosted): void {
    this.posted.rejected.push(rejected);
  }

  reject(event: EventName, problem: Problem): void {
    const { id } = event;
    const where = this.places.get(keyOf(event)) ?? '';
    this.posted.rejected.push({ where, id: typeof id === 'string' ? id : null, problem });
  }

  deliver({ accepted, duplicates }: { readonly accepted: number; readonly duplicates: number }): void {
    this.posted.accepted += accepted;
    this.posted.duplicates += duplicates;
  }

  take(): Posted {
    const { posted } = this;
    this.posted = { accepted: 0, duplicates: 0, rejected: [] };
    this.places = new Map();
    return posted;
  }
}

interface EventName {
  readonly source?: unknown;
  readonly id?: unknown;
}

function keyOf({ source, id }: EventName): string {
  return JSON.stringify([source, id]);
}

/** Posts events through a spool, and tells for each file what became of it. */
export class EventPoster {
  private constructor(
    private readonly outbox: Outbox,
    private readonly tally: Tally,
    private readonly removeSpool: () => Promise<void>,
  ) {}

  /** @throws SpoolLocked, SpoolFull, SpoolBroken */
  static async open({ spool, trouble, progress, ...server }: PosterOptions): Promise<EventPoster> {
    const folder = spool ?? (await mkdtemp(join(tmpdir(), 'heatbook-post-')));
    const removeSpool = async (): Promise<void> => {
      if (spool === undefined) await rm(folder, { recursive: true, force: true });
    };
    const tally = new Tally();
    try {
      const outbox = await openOutbox({
        ...{ ...server, spool: folder, check: false },
        onRejected: ({ event, problem }) => {
          tally.reject(event, problem);
        },
        onDelivered: (delivered) => {
          tally.deliver(delivered);
          progress(tally.done, tally.done + delivered.pending);
        },
        onTrouble: (error, { failures, retryInMs }) => {
          // A long absence is told now and then; what does not end by itself is thrown by `settle`.
          if (!(error instanceof Unreachable) || Math.log2(failures) % 1 !== 0) return;
          trouble(`${error.message} Trying again in ${String(Math.ceil(retryInMs / 1000))} s.`);
        },
      });
      return new EventPoster(outbox, tally, removeSpool);
    } catch (error) {
      await removeSpool();
      throw error;
    }
  }

  /** How many events wait in the spool. */
  get pending(): number {
    return this.outbox.status().pending;
  }

  /** Keeps events in the spool. Those that have not the shape of their type are told as rejected, and not sent. */
  async post(items: readonly PostedItem[]): Promise<void> {
    const events: object[] = [];
    for (const { where, item } of items) {
      if (item.ok) {
        events.push(item.event.body);
        this.tally.place(item.event, where);
      } else this.tally.unfit({ where, id: item.id, problem: item.problem });
    }
    await this.outbox.post(events);
  }

  /**
   * Waits until all is answered for, and begins to count anew.
   * @throws NotDrained where the time is up before, KeyRefused
   */
  async settle(timeoutMs = Infinity): Promise<Posted> {
    await this.outbox.drain({ timeoutMs });
    return this.take();
  }

  /** What is known so far of what was posted since the last count. */
  take(): Posted {
    return this.tally.take();
  }

  async close(): Promise<void> {
    await this.outbox.close();
    await this.removeSpool();
  }
}
