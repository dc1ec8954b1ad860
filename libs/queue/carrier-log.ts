/** One line for the log: what went wrong, why, and how many like it were held back since the last one. */
export interface CarrierLogEntry {
  message: string;
  error: Error;
  suppressed: number;
}

export type CarrierLog = (entry: CarrierLogEntry) => void;

const MOST_KINDS = 50;

/**
 * Lets each kind of trouble through once per interval and counts the rest: a carrier that is away reports every failed
 * attempt to reach it, several a second from each connection.
 */
export class LimitedLog {
  readonly #kinds = new Map<string, { loggedAtMs: number; suppressed: number }>();

  /**
   * @param intervalMs least time between two lines of one kind
   * @param nowMs monotonic clock
   */
  constructor(
    private readonly sink: CarrierLog,
    private readonly intervalMs = 10_000,
    private readonly nowMs: () => number = () => performance.now(),
  ) {}

  /** Logs `error` under `message`, unless one with the same message and cause was logged within the interval. */
  report(message: string, error: Error): void {
    const kind = `${message}: ${reasonOf(error)}`;
    const known = this.#kinds.get(kind);
    const atMs = this.nowMs();
    if (known !== undefined && atMs - known.loggedAtMs < this.intervalMs) {
      known.suppressed += 1;
      return;
    }
    // Messages may carry ids: without a bound the map would grow for as long as the trouble lasts.
    if (this.#kinds.size >= MOST_KINDS) this.#kinds.clear();
    this.#kinds.set(kind, { loggedAtMs: atMs, suppressed: 0 });
    this.sink({ message: kind, error, suppressed: known?.suppressed ?? 0 });
  }
}

/** The text of an error; connection errors that bundle several causes have no message, only a code. */
export function reasonOf(error: Error): string {
  if (error.message !== '') return error.message;
  return 'code' in error && typeof error.code === 'string' ? error.code : error.name;
}
