import { ChangeNote, ChangePlace, ChangeStore } from '../ports/change-store.js';
import { Clock } from '../ports/clock.js';
import { Log } from '../ports/log.js';
import { changesAsSeen, NoteAsSeen } from './changes-as-seen.js';
import { FeedEye, FeedListener } from './feed-listener.js';
import { isAfterPlace } from './stream-place.js';

/** How often it is looked what has changed, while somebody listens. */
const LOOK_EVERY_MS = 400;
/** Changes that are read together. */
const CHANGES_AT_ONCE = 500;
/** What a listener that comes again is told at most; who missed more asks anew for all that it shows. */
const MOST_MISSED = 2000;

export interface ChangeFeedDeps {
  readonly changes: Pick<ChangeStore, 'now' | 'after'>;
  readonly clock: Clock;
  readonly log: Log;
}

/** Tells those who listen in this process what has changed: looks while anybody does, once for all of the same eye. */
export class ChangeFeed {
  readonly #deps: ChangeFeedDeps;
  /** Everybody who came and has not left. */
  readonly #present = new Set<FeedListener>();
  /** Those of them who have heard all up to the place, so that they are told what comes. */
  readonly #seated = new Set<FeedListener>();
  #place: ChangePlace | undefined;
  #timer: NodeJS.Timeout | undefined;
  /** Looks and arrivals follow each other, so that nobody who comes in between misses a change or hears of one twice. */
  #turn: Promise<void> = Promise.resolve();
  #troubled = false;

  readonly #lookEveryMs: number;

  constructor(deps: ChangeFeedDeps, lookEveryMs = LOOK_EVERY_MS) {
    this.#deps = deps;
    this.#lookEveryMs = lookEveryMs;
  }

  /**
   * Takes in a listener, from now on or from the place after which it has not heard; what it missed it is told by and by.
   * @throws what the store throws; the listener is not taken in then
   */
  async join(listener: FeedListener, last: ChangePlace | 'too-old' | null): Promise<void> {
    this.#present.add(listener);
    try {
      await this.#inTurn(async () => {
        const now = this.#place ?? (await this.#deps.changes.now());
        if (!this.#present.has(listener)) return;
        this.#place = now;
        this.#wake();
        if (last === null) this.#begin(listener, 'hello');
        else if (last === 'too-old' || (await this.#isAhead(last))) this.#begin(listener, 'reset');
      });
    } catch (error) {
      this.leave(listener);
      throw error;
    }
    if (last === null || last === 'too-old' || this.#seated.has(listener)) return;
    void this.#catchUp(listener, last).catch((error: unknown) => {
      this.#deps.log.warn('A listener was sent away: it comes again.', { why: String(error) });
      listener.end();
    });
  }

  leave(listener: FeedListener): void {
    this.#present.delete(listener);
    this.#seated.delete(listener);
    if (this.#present.size > 0) return;
    clearInterval(this.#timer);
    this.#timer = undefined;
    this.#place = undefined;
  }

  #begin(listener: FeedListener, event: 'hello' | 'reset'): void {
    if (this.#place === undefined || !this.#present.has(listener)) return;
    listener.begin(event, this.#place);
    this.#seated.add(listener);
  }

  /** A place from another process may be a look ahead of this one, but not of the database. */
  async #isAhead(last: ChangePlace): Promise<boolean> {
    const isKnown = this.#place !== undefined && !isAfterPlace(last, this.#place);
    return !isKnown && isAfterPlace(last, await this.#deps.changes.now());
  }

  async #catchUp(listener: FeedListener, last: ChangePlace): Promise<void> {
    const missed = await this.#missedSince(last);
    if (missed === 'too-much') {
      await this.#inTurn(() => {
        this.#begin(listener, 'reset');
      });
      return;
    }
    let from = last;
    for (const notes of missed) {
      from = await this.#tellOne(listener, notes, from);
      await listener.room();
    }
    await this.#inTurn(() => this.#seat(listener, from));
  }

  /** What was changed since, in stretches that are told one by one. */
  async #missedSince(last: ChangePlace): Promise<readonly (readonly ChangeNote[])[] | 'too-much'> {
    const missed: (readonly ChangeNote[])[] = [];
    let changes = 0;
    for (let from: ChangePlace | undefined = last; from !== undefined;) {
      const notes = await this.#deps.changes.after(from, CHANGES_AT_ONCE);
      changes += notes.reduce((sum, note) => sum + changesIn(note), 0);
      if (changes > MOST_MISSED) return 'too-much';
      missed.push(notes);
      from = notes.at(-1)?.place;
    }
    return missed;
  }

  /** Tells a listener what is left up to the place that everybody else is at, and lets it go on with them. */
  async #seat(listener: FeedListener, from: ChangePlace): Promise<void> {
    await this.#look();
    const until = this.#place;
    for (let at = from; until !== undefined && this.#present.has(listener);) {
      const notes = await this.#deps.changes.after(at, CHANGES_AT_ONCE);
      const left = notes.filter(({ place }) => !isAfterPlace(place, until));
      if (left.length === 0) {
        // It may have left while this was read.
        if (this.#present.has(listener)) this.#seated.add(listener);
        return;
      }
      at = await this.#tellOne(listener, left, at);
    }
  }

  async #tellOne(listener: FeedListener, notes: readonly ChangeNote[], from: ChangePlace): Promise<ChangePlace> {
    const seen = await this.#asSeen(listener.eye, notes);
    if (this.#present.has(listener)) listener.tell(seen);
    return notes.at(-1)?.place ?? from;
  }

  #wake(): void {
    if (this.#timer !== undefined) return;
    let looking = false;
    this.#timer = setInterval(() => {
      if (looking) return;
      looking = true;
      void this.#inTurn(() => this.#look()).then(
        () => {
          looking = false;
          if (this.#troubled) this.#deps.log.info('Changes are told again.');
          this.#troubled = false;
        },
        (error: unknown) => {
          looking = false;
          // What was not told is told at a later look.
          if (!this.#troubled) this.#deps.log.warn('Changes cannot be told for now.', { why: String(error) });
          this.#troubled = true;
        },
      );
    }, this.#lookEveryMs);
  }

  #inTurn(work: () => Promise<void> | void): Promise<void> {
    const done = this.#turn.then(work);
    this.#turn = done.catch(() => undefined);
    return done;
  }

  async #look(): Promise<void> {
    for (let from = this.#place; from !== undefined;) {
      const notes = await this.#deps.changes.after(from, CHANGES_AT_ONCE);
      const last = notes.at(-1);
      if (last === undefined) return;
      const seen = await this.#seenByAll(notes);
      // Everybody left in the meantime: whoever comes next begins from then.
      if (this.#place !== from) return;
      for (const listener of [...this.#seated]) {
        const own = seen.get(listener.eye.key);
        if (own === undefined) listener.end();
        else listener.tell(own);
      }
      this.#place = from = last.place;
    }
  }

  /**
   * Notes as each eye that is here sees them. One that cannot be served is left out, so that it keeps nobody else waiting.
   * @throws where none can be served
   */
  async #seenByAll(notes: readonly ChangeNote[]): Promise<ReadonlyMap<string, readonly NoteAsSeen[]>> {
    const eyes = new Map([...this.#seated].map(({ eye }) => [eye.key, eye]));
    const seen = new Map<string, readonly NoteAsSeen[]>();
    const failures: unknown[] = [];
    for (const eye of eyes.values()) {
      await this.#asSeen(eye, notes).then(
        (own) => seen.set(eye.key, own),
        (error: unknown) => failures.push(error),
      );
    }
    if (failures.length > 0 && seen.size === 0) throw failures[0];
    return seen;
  }

  async #asSeen(eye: FeedEye, notes: readonly ChangeNote[]): Promise<readonly NoteAsSeen[]> {
    return changesAsSeen({ reads: eye.reads(), clearances: eye.clearances, now: this.#deps.clock.now() }, notes);
  }
}

function changesIn({ entries, holds, clearances }: ChangeNote): number {
  return entries.length + holds.length + clearances.length;
}
