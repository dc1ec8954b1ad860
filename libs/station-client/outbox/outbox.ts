import { NotDrained, Unreachable } from '../errors.js';
import { ClockEstimate } from '../clock/clock-estimate.js';
import { setAsideFile } from '../spool/set-aside.js';
import { Spool } from '../spool/spool.js';
import { OutboxOptions, OutboxStatus } from './outbox-options.js';
import { Sender } from './sender.js';
import { toJsons } from './to-jsons.js';

const SPOOL_BYTES = 1024 * 1024 * 1024;
const SEGMENT_BYTES = 4 * 1024 * 1024;
/** For the request that is under way when it is closed. */
const LAST_ANSWER_MS = 2_000;

/**
 * Opens a spool and begins to send what waits in it.
 * @throws SpoolLocked, SpoolFull, SpoolBroken; TypeError where `url` is none
 */
export async function openOutbox(options: OutboxOptions): Promise<Outbox> {
  return new Outbox(options, await openSpool(options));
}

/** @throws SpoolLocked, SpoolFull, SpoolBroken; TypeError where `url` is none */
export async function openSpool(options: Omit<OutboxOptions, 'source'>): Promise<Spool> {
  const { url, spool: folder, maxSpoolBytes = SPOOL_BYTES, segmentBytes = SEGMENT_BYTES } = options;
  // An address that is none would be found out only by the first event.
  new URL(url);
  return Spool.open({ folder, maxBytes: maxSpoolBytes, segmentBytes });
}

/**
 * Sends events to Heatbook, in the order in which they were posted and one request at a time, until each is answered for. What waits
 * is on the disk, and outlives the process. Open it with `openOutbox`.
 */
export class Outbox {
  /** Learns the offset of the clock from every answer. */
  readonly clock = new ClockEstimate();
  readonly #sender: Sender;
  #isClosed = false;

  constructor(
    private readonly options: OutboxOptions,
    private readonly spool: Spool,
  ) {
    this.#sender = new Sender(spool, options, this.clock);
  }

  /** Where events stand that Heatbook turned away: a JSON object a line, with `at`, `problem` and `event`. */
  get setAsideFile(): string {
    return setAsideFile(this.spool.folder);
  }

  /**
   * Keeps events, all of them or none. Resolves when they are on the disk: from then on they are sent, whatever happens.
   * @throws BadEvent, SpoolFull, SpoolBroken, SpoolLocked, Closed
   */
  async post(events: object | readonly object[]): Promise<void> {
    const list = Array.isArray(events) ? (events as readonly object[]) : [events];
    const jsons = toJsons(list, this.options.check ?? true);
    if (jsons.length === 0) return;
    await this.spool.append(jsons);
    this.#sender.appended();
  }

  /**
   * Waits until everything that was posted before is answered for. Where it was pausing after a failure it tries again at once.
   * @throws NotDrained where the time is up before, or it is closed; KeyRefused or an error of the spool as soon as one is met
   */
  async drain({ timeoutMs = Infinity }: { readonly timeoutMs?: number } = {}): Promise<void> {
    const sender = this.#sender;
    const goal = this.spool.settled + this.spool.pending;
    const deadline = performance.now() + timeoutMs;
    const isDone = (): boolean => this.spool.pending === 0 || this.spool.settled >= goal;
    sender.hurry();
    while (!isDone()) {
      const leftMs = Math.max(0, deadline - performance.now());
      const isHeard = !this.#isClosed && (await sender.attempted.heard(leftMs));
      if (isDone()) return;
      const { lastError } = sender;
      if (lastError !== undefined && !(lastError instanceof Unreachable)) throw lastError;
      if (!isHeard) throw new NotDrained(this.spool.pending, lastError);
    }
  }

  status(): OutboxStatus {
    const { pending, bytes, oldestMs, damaged } = this.spool;
    return {
      pending,
      pendingBytes: bytes,
      oldestAgeMs: oldestMs === undefined ? null : Math.max(0, Date.now() - oldestMs),
      ...this.#sender.counts,
      lastError: this.#sender.lastError ?? null,
      damaged,
    };
  }

  /**
   * Ends in good order. What still waits stays on the disk for the next time.
   * @param options drainMs: for how long to try to deliver it before
   */
  async close({ drainMs = 0 }: { readonly drainMs?: number } = {}): Promise<void> {
    if (this.#isClosed) return;
    if (drainMs > 0) await this.drain({ timeoutMs: drainMs }).catch(() => undefined);
    this.#isClosed = true;
    await this.#sender.stop(LAST_ANSWER_MS);
    await this.spool.close();
  }
}
