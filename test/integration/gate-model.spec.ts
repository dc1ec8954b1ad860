import fc from 'fast-check';
import { Step, UNMEASURED } from '../reference/gate-words.js';
import { OverdraftWatch } from '../reference/overdraft-watch.js';
import { BookHarness, memoryHarness, postgresHarness } from '../support/book-harness.js';
import { inWords } from '../support/gate-in-words.js';
import { Operation, Tell } from '../support/gate-operation.js';
import { operations } from '../support/gate-operations.js';
import { bookPicture, naivePicture } from '../support/gate-picture.js';
import { GatePlay } from '../support/gate-play.js';
import { enterGateShop, openingEvents } from '../support/gate-shop.js';
import { HandClock } from '../support/hand-clock.js';
import { testRounds, testSeed } from '../support/process-seed.js';

const OPENING = Date.UTC(2026, 3, 1, 6);
const BEGINNING = Date.UTC(2026, 3, 1, 8);
/** Between two operations, so that no two are at one moment. */
const PAUSE_MS = 30_000;

async function open(make: (clock: HandClock) => Promise<BookHarness>, clock: HandClock): Promise<BookHarness> {
  const book = await make(clock);
  await enterGateShop(book.setupStore);
  await book.post([...openingEvents(new Date(OPENING).toISOString())]);
  await book.fold();
  return book;
}

/** Does the operations one by one to the book and to the naive gate, and compares what they say and how they stand. */
async function compare(make: (clock: HandClock) => Promise<BookHarness>, list: readonly Operation[]): Promise<void> {
  const clock = new HandClock(BEGINNING);
  const book = await open(make, clock);
  try {
    const play = new GatePlay(book, clock);
    const watch = new OverdraftWatch(play.naive);
    for (const [n, operation] of list.entries()) {
      clock.pass(PAUSE_MS);
      await within(list.slice(0, n + 1), async () => {
        const answers = await play.play(operation);
        expect(answers?.book).toEqual(answers?.naive);
        const seen = await bookPicture(book, play.clearances, clock.now());
        expect(seen).toEqual(naivePicture(play.naive, clock.ms));
        expect(watch.look(clock.ms)).toEqual([]);
      });
    }
  } finally {
    await book.close();
  }
}

/** Says, where the two part, what had been done by then. */
async function within(done: readonly Operation[], check: () => Promise<void>): Promise<void> {
  try {
    await check();
  } catch (cause) {
    const how = cause instanceof Error ? cause.message : String(cause);
    throw new Error(`The book and the naive gate part after this:\n${done.map(inWords).join('\n')}\n${how}`, { cause });
  }
}

function said(subject: string, doing: Step): Tell {
  return {
    op: 'tell',
    subject,
    doing,
    minutesAgo: 0,
    minutesHot: 0,
    measured: UNMEASURED,
    names: null,
    sensible: false,
  };
}

const seed = testSeed();

describe(`the gate beside a naive one (TEST_SEED=${String(seed)})`, () => {
  it('says the same and stands the same after every operation', async () => {
    await fc.assert(
      fc.asyncProperty(operations, (list) => compare(memoryHarness, list)),
      { seed, numRuns: testRounds(200) },
    );
  }, 3_600_000);

  it('leaves a step used by a heat that moved a device, when the story of that device is told again without it', async () => {
    const profile = 'HOT';
    const place = (device: string) => ({ kind: 'placement', site: 'U1', device, profile }) as const;
    const reballing = { kind: 'reballing', device: 'N1' } as const;
    const steps = [place('N2'), reballing];
    const wish = { subject: 'PAIR/2', steps, station: 'BENCH', operator: 'op', ttlMinutes: 30 };
    await compare(memoryHarness, [
      said('PAIR/2', { kind: 'removal', site: 'U1', fate: 'scrap', profile }),
      { op: 'ask', wish, before: null, sensible: false },
      said('PAIR/2', place('N1')),
      // On top of what the book takes to be there, which makes N1 loose.
      { ...said('PAIR/2', place('N2')), names: 0 },
      said('devices/N1', reballing),
      { op: 'annul', which: 2 },
      { op: 'annul', which: 0 },
    ]);
  });

  it('does so on Postgres', async () => {
    await fc.assert(
      fc.asyncProperty(operations, (list) => compare(postgresHarness, list)),
      { seed, numRuns: 6 },
    );
  }, 120_000);
});
