import fc from 'fast-check';
import { silentLog } from '../../../test/support/silent-log.js';
import { seal } from '../../evidence/seal.js';
import { memoryBook } from '../memory/memory-book.js';
import { BookBench } from '../ports/book-bench.contract.js';
import { ChangedReads } from '../ports/changed-reads.js';
import { ChangePlace } from '../ports/change-store.js';
import { ChangeFeed } from './change-feed.js';
import { NoteAsSeen } from './changes-as-seen.js';
import { FeedEye, FeedListener } from './feed-listener.js';

const clock = { now: () => '2026-03-02T08:00:00.000Z' };
const UNIT = 'BRD-1/0001';

/** Keeps what it is told, as a page would that reads at once. */
class Ear implements FeedListener {
  readonly begun: string[] = [];
  readonly entries: string[] = [];
  hasEnded = false;
  private heard: () => void = () => undefined;

  /** @param place the last that it knows of */
  constructor(
    readonly eye: FeedEye,
    public place: ChangePlace | null = null,
  ) {}

  begin(event: 'hello' | 'reset', place: ChangePlace): void {
    this.begun.push(event);
    this.place = place;
    this.heard();
  }

  tell(notes: readonly NoteAsSeen[]): void {
    for (const { place, messages } of notes) {
      for (const { event, data } of messages) {
        if (event === 'entry') this.entries.push(`${data.stream} ${String(data.seq)}`);
      }
      this.place = place;
    }
    this.heard();
  }

  room(): Promise<void> {
    return Promise.resolve();
  }

  end(): void {
    this.hasEnded = true;
    this.heard();
  }

  /** The test's own timeout bounds it. */
  until(isSo: () => boolean): Promise<void> {
    return new Promise((resolve) => {
      this.heard = () => {
        if (isSo()) resolve();
      };
      this.heard();
    });
  }
}

function makeFeed() {
  const { stations, changes, ...book } = memoryBook(clock);
  const bench = new BookBench({ ...book, stations, changes, advance: null, close: () => Promise.resolve() }, seal);
  const feed = new ChangeFeed({ changes, clock, log: silentLog }, 1);
  const house: FeedEye = { key: 'house', reads: () => book.read, clearances: true };
  return {
    bench,
    feed,
    changes,
    house,
    ear: (eye: FeedEye = house) => new Ear(eye),
    again: (ear: Ear) => new Ear(house, ear.place),
  };
}

describe('The feed of changes', () => {
  it('says where it begins, tells what comes after, and nothing that was before', async () => {
    const { bench, feed, ear } = makeFeed();
    await bench.append(UNIT, 2);
    const listener = ear();
    await feed.join(listener, null);
    await bench.append(UNIT);
    await listener.until(() => listener.entries.length > 0);
    feed.leave(listener);
    expect([listener.begun, listener.entries]).toEqual([['hello'], [`${UNIT} 3`]]);
  });

  it('tells over any connections that are lost what it tells over one', async () => {
    const step = fc.oneof(
      fc.record({ write: fc.nat(3), times: fc.integer({ min: 1, max: 3 }) }),
      fc.constant('reconnect' as const),
      fc.constant('breathe' as const),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(step, { maxLength: 30 }), async (steps) => {
        const { bench, feed, ear, again } = makeFeed();
        const whole = ear();
        const parts = [ear()];
        const newest = (): Ear => parts.at(-1) ?? whole;
        await Promise.all([feed.join(whole, null), feed.join(newest(), null)]);
        let written = 0;
        for (const one of steps) {
          if (one === 'reconnect') {
            feed.leave(newest());
            parts.push(again(newest()));
            await feed.join(newest(), newest().place);
          } else if (one === 'breathe') {
            await whole.until(() => whole.entries.length === written);
          } else {
            await bench.append(`BRD-1/000${String(one.write)}`, one.times);
            written += one.times;
          }
        }
        await whole.until(() => whole.entries.length >= written);
        const apart = (): string[] => parts.flatMap(({ entries }) => entries);
        await newest().until(() => apart().length >= written);
        // What is told twice comes in the look after.
        await bench.append('BRD-2/0001');
        await Promise.all([whole, newest()].map((one) => one.until(() => one.entries.includes('BRD-2/0001 1'))));
        for (const one of [whole, newest()]) feed.leave(one);
        expect(apart()).toEqual(whole.entries);
        expect(whole.entries).toHaveLength(written + 1);
      }),
      { numRuns: 60 },
    );
  });

  it('tells nothing to one that left while it was looked whether it had missed anything', async () => {
    const { bench, changes, ear, again } = makeFeed();
    let looks = 0;
    const after: typeof changes.after = async (from, limit) => {
      const notes = await changes.after(from, limit);
      looks += 1;
      // What it missed, what everybody missed, and what was left for it to hear.
      if (looks === 3) feed.leave(late);
      return notes;
    };
    const feed = new ChangeFeed({ changes: { now: () => changes.now(), after }, clock, log: silentLog }, 1_000_000);
    const first = ear();
    await feed.join(first, null);
    const late = again(first);
    await feed.join(late, late.place);
    const last = again(first);
    await bench.append(UNIT);
    await feed.join(last, last.place);
    await last.until(() => last.entries.length > 0);
    await first.until(() => first.entries.length > 0);
    for (const one of [first, last]) feed.leave(one);
    expect([first.entries, late.entries, last.entries]).toEqual([[`${UNIT} 1`], [], [`${UNIT} 1`]]);
  });

  it('goes on from a place that another process gave, which is ahead of its own', async () => {
    const { bench, feed, changes, ear } = makeFeed();
    const [here, moved] = [ear(), ear()];
    await feed.join(here, null);
    await bench.append(UNIT);
    await feed.join(moved, await changes.now());
    await bench.append(UNIT);
    await Promise.all([here, moved].map((one) => one.until(() => one.entries.includes(`${UNIT} 2`))));
    for (const one of [here, moved]) feed.leave(one);
    expect([here.entries, moved.entries, moved.begun]).toEqual([[`${UNIT} 1`, `${UNIT} 2`], [`${UNIT} 2`], []]);
  });

  it('lets those ask anew who missed too much, were away too long, or come from elsewhere', async () => {
    const { bench, feed, changes, ear } = makeFeed();
    const before = await changes.now();
    for (let unit = 0; unit < 7; unit += 1) await bench.append(`BRD-1/${String(unit)}`, 300);
    for (const last of [before, 'too-old' as const, { transaction: '999', number: '0' }]) {
      const listener = ear();
      await feed.join(listener, last);
      await listener.until(() => listener.begun.includes('reset'));
      const [entry] = await bench.append(UNIT);
      await listener.until(() => listener.entries.length > 0);
      feed.leave(listener);
      expect([listener.begun, listener.entries]).toEqual([['reset'], [`${UNIT} ${String(entry?.seq)}`]]);
    }
  });

  it('keeps nobody waiting for an eye that cannot be served, and tells everybody once it can', async () => {
    const { bench, feed, house, ear } = makeFeed();
    let isAway = false;
    const away = (): ChangedReads => {
      if (isAway) throw new Error('the database is away');
      return house.reads();
    };
    const [broken, well] = [ear({ ...house, key: 'customer', reads: away }), ear({ ...house, key: 'other' })];
    await Promise.all([feed.join(broken, null), feed.join(well, null)]);
    isAway = true;
    await bench.append(UNIT);
    await well.until(() => well.entries.length > 0);
    await broken.until(() => broken.hasEnded);
    feed.leave(well);
    feed.leave(broken);
    const again = ear({ ...house, key: 'customer', reads: away });
    await feed.join(again, null);
    await bench.append(UNIT);
    isAway = false;
    await again.until(() => again.hasEnded || again.entries.length > 0);
    feed.leave(again);
    expect([well.entries, again.entries]).toEqual([[`${UNIT} 1`], [`${UNIT} 2`]]);
  });

  it('takes nobody in where the store is away, and looks no more once everybody has left', async () => {
    const { bench, changes, house } = makeFeed();
    let looks = 0;
    let isAway = true;
    const feed = new ChangeFeed(
      {
        changes: {
          now: () => (isAway ? Promise.reject(new Error('the database is away')) : changes.now()),
          after: (place, limit) => {
            looks += 1;
            return changes.after(place, limit);
          },
        },
        ...{ clock, log: silentLog },
      },
      1,
    );
    const listener = new Ear(house);
    await expect(feed.join(listener, null)).rejects.toThrow('the database is away');
    isAway = false;
    await feed.join(listener, null);
    feed.leave(listener);
    const before = looks;
    // Another feed that looks as often has found something meanwhile.
    const other = new ChangeFeed({ changes, clock, log: silentLog }, 1);
    const still = new Ear(house);
    await other.join(still, null);
    await bench.append(UNIT);
    await still.until(() => still.entries.length > 0);
    other.leave(still);
    expect([looks, listener.begun, listener.entries]).toEqual([before, ['hello'], []]);
  });
});
