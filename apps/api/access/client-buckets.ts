import { type BucketSize, TokenBucket } from './token-bucket.js';

/** Clients that are told apart at a time; some 200 bytes each. Those beyond share one bucket. */
const MOST_CLIENTS = 10_000;

/** What a client gets who took one more. */
export type Taken =
  | { readonly within: true }
  /** `isFirst`: of those that were too many since there was one left; the others only repeat it. */
  | { readonly within: false; readonly isFirst: boolean; readonly retryAfterSeconds: number };

interface Known {
  readonly bucket: TokenBucket;
  isOver: boolean;
}

/** A bucket for each client, in bounded memory. */
export class ClientBuckets {
  /** The one that was used longest ago first. */
  private readonly clients = new Map<string, Known>();
  private readonly others: Known;

  /** @param nowMs a clock that only runs forward */
  constructor(
    private readonly size: BucketSize,
    private readonly nowMs: () => number = () => performance.now(),
    private readonly most = MOST_CLIENTS,
  ) {
    this.others = this.fresh();
  }

  take(client: string): Taken {
    const known = this.of(client);
    if (known.bucket.take(this.nowMs())) {
      known.isOver = false;
      return { within: true };
    }
    const isFirst = !known.isOver;
    known.isOver = true;
    return { within: false, isFirst, retryAfterSeconds: known.bucket.retryAfterSeconds() };
  }

  /** Takes back what was taken last: it was not what is counted. */
  giveBack(client: string): void {
    (this.clients.get(client) ?? this.others).bucket.giveBack();
  }

  private of(client: string): Known {
    const known = this.clients.get(client);
    if (known !== undefined) {
      this.clients.delete(client);
      this.clients.set(client, known);
      return known;
    }
    this.forgetOne();
    // A crowd of addresses must not push out those that are being counted.
    if (this.clients.size >= this.most) return this.others;
    const fresh = this.fresh();
    this.clients.set(client, fresh);
    return fresh;
  }

  /** One for each that comes is enough: the oldest is the first to be full again. */
  private forgetOne(): void {
    const [oldest] = this.clients;
    if (oldest?.[1].bucket.isFull(this.nowMs()) === true) this.clients.delete(oldest[0]);
  }

  private fresh(): Known {
    return { bucket: new TokenBucket(this.size, this.nowMs()), isOver: false };
  }
}
