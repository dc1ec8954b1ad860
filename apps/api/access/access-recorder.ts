import { OnApplicationShutdown } from '@nestjs/common';
import { AccessRecord, AccessStore } from '../../../libs/ledger/ports/access-store.js';
import { Log } from '../../../libs/ledger/ports/log.js';
import { type BucketSize, TokenBucket } from './token-bucket.js';

const FLUSH_EVERY_MS = 500;
/** Records that may wait for the database; beyond that they are dropped, and counted. */
const MOST_WAITING = 5_000;
const MOST_AT_ONCE = 500;
/**
 * Of callers whom nobody knows, all together: from many addresses at once they would fill the disk. Ten a second are some 150 MB a
 * day; what is beyond is dropped, and counted.
 */
const STRANGERS: BucketSize = { burst: 1_000, perSecond: 10 };

interface RecorderDeps {
  readonly store: Pick<AccessStore, 'append'>;
  readonly log: Log;
  readonly countDropped: (records: number) => void;
  /** Milliseconds between writes. */
  readonly flushEveryMs?: number;
}

/**
 * Puts accesses on record beside the requests that they are of. Refusals are gathered and written together, twice a
 * second and at the end; while the database is away they wait, up to a bound.
 */
export class AccessRecorder implements OnApplicationShutdown {
  private readonly waiting: AccessRecord[] = [];
  private timer: NodeJS.Timeout | undefined;
  private flushing: Promise<void> | undefined;
  private isFailing = false;
  private readonly strangers = new TokenBucket(STRANGERS, performance.now());

  constructor(private readonly deps: RecorderDeps) {}

  /** Notes the refusal of a caller whom nobody knows, as far as there is room for strangers. */
  noteStranger(record: AccessRecord): void {
    if (this.strangers.take(performance.now())) this.note(record);
    else this.deps.countDropped(1);
  }

  /** Returns at once; the record is written within a second. */
  note(record: AccessRecord): void {
    if (this.waiting.length >= MOST_WAITING) {
      this.deps.countDropped(1);
      return;
    }
    this.waiting.push(record);
    this.flushLater();
  }

  /** Writes at once and resolves when the record is durable, or when it has been left to be written later. */
  async write(record: AccessRecord): Promise<void> {
    try {
      await this.deps.store.append([record]);
    } catch (error) {
      this.complain(error);
      this.note(record);
    }
  }

  /** Writes what is waiting, as far as the database takes it. */
  async flush(): Promise<void> {
    clearTimeout(this.timer);
    this.timer = undefined;
    this.flushing ??= this.writeWaiting().finally(() => {
      this.flushing = undefined;
      if (this.waiting.length > 0) this.flushLater();
    });
    await this.flushing;
  }

  /** Called by Nest when no request is being answered any more. */
  async onApplicationShutdown(): Promise<void> {
    await this.flush();
    // One more round for what came during the last one; what is not written now never will be.
    await this.flush();
    clearTimeout(this.timer);
    const lost = this.waiting.splice(0).length;
    if (lost > 0) this.deps.countDropped(lost);
  }

  /** Without keeping the process alive for it: stopping flushes. */
  private flushLater(): void {
    this.timer ??= setTimeout(() => void this.flush(), this.deps.flushEveryMs ?? FLUSH_EVERY_MS).unref();
  }

  private async writeWaiting(): Promise<void> {
    while (this.waiting.length > 0) {
      const records = this.waiting.slice(0, MOST_AT_ONCE);
      try {
        await this.deps.store.append(records);
      } catch (error) {
        this.complain(error);
        return;
      }
      this.waiting.splice(0, records.length);
      this.isFailing = false;
    }
  }

  /** Once per outage: every refusal would repeat it. */
  private complain(error: unknown): void {
    if (!this.isFailing) this.deps.log.error('The access record cannot be written.', { error: String(error) });
    this.isFailing = true;
  }
}
