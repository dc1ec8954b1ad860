/** Pending events whose oldest is the same for this long are not being folded. A failed one is tried again sooner. */
const STUCK_AFTER_MS = 60_000;

/** How far the inbox is folded, as `backlog` tells it. */
interface Backlog {
  readonly pending: number;
  readonly oldestReceivedAt: string | null;
}

/** Whether the oldest pending event keeps changing: a long queue is no fault as long as it moves. */
export class FoldProgress {
  private oldest: string | null = null;
  private since = 0;

  /** @param nowMs a clock that only goes forward */
  constructor(private readonly nowMs: () => number) {}

  /** Takes note of how it stands now. @returns false where nothing has moved for a minute. */
  moves({ pending, oldestReceivedAt }: Backlog): boolean {
    const now = this.nowMs();
    if (pending === 0 || oldestReceivedAt !== this.oldest) {
      this.oldest = pending === 0 ? null : oldestReceivedAt;
      this.since = now;
    }
    return now - this.since <= STUCK_AFTER_MS;
  }
}
