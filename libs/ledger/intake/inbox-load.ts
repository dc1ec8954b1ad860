/** How much waits: events, and characters of their payloads, which are about their bytes. */
interface Load {
  readonly events: number;
  readonly size: number;
}

export interface InboxBounds {
  readonly inAll: Load;
  /** No less than the largest request brings. */
  readonly ofOneStation: Load;
}

/**
 * More waits than is kept up with: in memory for the database, everybody's events together (`inbox-full`) or those of one station
 * (`station-full`), or in the database to be folded (`backlog-full`). Nothing of the request was stored.
 */
export class InboxFull extends Error {
  override readonly name = 'InboxFull';

  constructor(
    readonly code: 'inbox-full' | 'station-full' | 'backlog-full',
    readonly retryAfterSeconds = 1,
  ) {
    super(code);
  }
}

/** Counts what is in memory on its way into the database, in all and by station. */
export class InboxLoad {
  readonly #bounds: InboxBounds;
  readonly #byStation = new Map<string, Load>();
  #all: Load = NOTHING;

  constructor(bounds: InboxBounds) {
    this.#bounds = bounds;
  }

  /** @throws InboxFull where it would be beyond a bound. Where nothing waits, anything may: it would never fit otherwise. */
  add(station: string, load: Load): void {
    const own = this.#byStation.get(station) ?? NOTHING;
    if (isBeyond(own, load, this.#bounds.ofOneStation)) throw new InboxFull('station-full');
    if (isBeyond(this.#all, load, this.#bounds.inAll)) throw new InboxFull('inbox-full');
    this.#all = sum(this.#all, load, 1);
    this.#byStation.set(station, sum(own, load, 1));
  }

  remove(station: string, load: Load): void {
    this.#all = sum(this.#all, load, -1);
    const own = sum(this.#byStation.get(station) ?? NOTHING, load, -1);
    if (own.events === 0) this.#byStation.delete(station);
    else this.#byStation.set(station, own);
  }
}

const NOTHING: Load = { events: 0, size: 0 };

function isBeyond(there: Load, more: Load, bound: Load): boolean {
  if (there.events === 0) return false;
  return there.events + more.events > bound.events || there.size + more.size > bound.size;
}

function sum(a: Load, b: Load, sign: 1 | -1): Load {
  return { events: a.events + sign * b.events, size: a.size + sign * b.size };
}
