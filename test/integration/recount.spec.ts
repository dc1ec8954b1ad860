import fc from 'fast-check';
import { makeDemo } from '../../apps/cli/demo/make-demo.js';
import { BookHarness, memoryHarness, postgresHarness } from '../support/book-harness.js';
import { Operation } from '../support/gate-operation.js';
import { operations } from '../support/gate-operations.js';
import { GatePlay } from '../support/gate-play.js';
import { enterGateShop, openingEvents } from '../support/gate-shop.js';
import { heat, onUnit, tc } from '../support/domain-events.js';
import { HandClock } from '../support/hand-clock.js';
import { LimitShop } from '../support/limit-shop.js';
import { mulberry32 } from '../support/mulberry32.js';
import { testRounds, testSeed } from '../support/process-seed.js';
import { recounted } from '../support/recounted.js';

const BEGINNING = Date.UTC(2026, 3, 1, 8);
const PAUSE_MS = 30_000;

/** The demo's events in an order drawn by a seed, folded after every so many: most stories are told again. */
async function shuffledDemo(book: BookHarness, seed: number, size: number): Promise<void> {
  const demo = makeDemo();
  for (const { kind, name, body } of demo.setup) await book.setupStore.revise(kind, name, body, 'demo');
  const random = mulberry32(seed);
  const events = demo.posts
    .flatMap(({ events }) => events.flatMap(({ event, expected }) => (expected === 'accepted' ? [event] : [])))
    .map((event) => ({ event, place: random() }))
    .sort((a, b) => a.place - b.place)
    .map(({ event }) => event);
  for (let at = 0; at < events.length; at += size) {
    await book.post(events.slice(at, at + size));
    await book.fold();
  }
}

async function withBook<T>(book: BookHarness, use: (book: BookHarness) => Promise<T>): Promise<T> {
  try {
    return await use(book);
  } finally {
    await book.close();
  }
}

const placement = { kind: 'placement', site: 'U1', device: 'N1', profile: 'HOT' } as const;
const wish = { subject: 'PAIR/1', steps: [placement], station: 'BENCH', operator: 'op', ttlMinutes: 2 };
const told = { minutesAgo: 0, minutesHot: 0, measured: { own: null, beside: null }, doing: placement, names: null };
const asked: Operation = { op: 'ask', wish, before: { op: 'tell', ...told, sensible: true }, sensible: true };
/** A hold whose cause goes when somebody has decided on it, and that another event calls for after. */
const CALLED_FOR_AGAIN: Operation[] = [
  { op: 'comes back', subject: 'PAIR/1' },
  asked,
  { op: 'annul', which: 1 },
  { op: 'decide', which: 0, decision: 'use-as-is', by: 'ann' },
  { op: 'annul', which: 0 },
  asked,
  { op: 'let go', which: 0, decision: 'use-as-is' },
];

const aside = { ...told, names: null, sensible: false } as const;
/** A device that was not on the second board after all, with a hold from when it seemed to be; then that board's story is told again. */
const NOT_THERE_AFTER_ALL: Operation[] = [
  { op: 'tell', ...aside, subject: 'PAIR/1', doing: { kind: 'removal', site: 'U1', fate: 'keep', profile: 'HOT' } },
  { op: 'tell', ...aside, subject: 'PAIR/1', doing: { ...placement, device: 'N2' } },
  { op: 'tell', ...aside, subject: 'PAIR/2', doing: { ...placement, device: 'N2' } },
  { op: 'tell', ...aside, subject: 'devices/N2', doing: { kind: 'reballing', device: 'N2' } },
  { op: 'annul', which: 1 },
  { op: 'tell', ...aside, subject: 'PAIR/2', doing: { kind: 'touch-up', site: 'U1', profile: 'HOT' } },
  { op: 'tell', ...aside, subject: 'PAIR/2', doing: { kind: 'touch-up', site: 'U1', profile: 'HOT' }, minutesAgo: 1 },
];

const seed = testSeed();

describe(`a recount of a book that nobody has damaged (TEST_SEED=${String(seed)})`, () => {
  it.each([
    ['memory', memoryHarness],
    ['Postgres', postgresHarness],
  ] as const)(
    'is silent on the demo in %s, in whatever order its events came',
    async (_, make) => {
      await withBook(await make(), async (book) => {
        await shuffledDemo(book, seed, 40);
        const { counts, differences } = await recounted(book.recount);
        expect(differences).toEqual([]);
        expect(counts.states).toBeGreaterThan(100);
        expect(counts.holds).toBeGreaterThan(5);
        expect(counts.events).toBeGreaterThan(500);
        expect(counts.marks).toBeGreaterThan(1000);
      });
    },
    120_000,
  );

  it('is silent after whatever is done at the gate: clearances, late events, annulments', async () => {
    await fc.assert(
      fc.asyncProperty(operations, async (list) => {
        const clock = new HandClock(BEGINNING);
        await withBook(await memoryHarness(clock), async (book) => {
          await enterGateShop(book.setupStore);
          await book.post([...openingEvents(new Date(BEGINNING - 7_200_000).toISOString())]);
          await book.fold();
          const play = new GatePlay(book, clock);
          for (const operation of list) {
            clock.pass(PAUSE_MS);
            await play.play(operation);
          }
          expect((await recounted(book.recount)).differences).toEqual([]);
        });
      }),
      { seed, numRuns: testRounds(100), examples: [[CALLED_FOR_AGAIN], [NOT_THERE_AFTER_ALL]] },
    );
  }, 3_600_000);

  it('is silent after limits became stricter and milder, and after stories were told again across that', async () => {
    await withBook(await postgresHarness(), async (book) => {
      const shop = await LimitShop.open(book);
      const board = onUnit('BRD/1');
      const hot = { heat: heat(tc('joint', 236), tc('die', 236)) };
      await shop.tell(board.received({ priorReflows: 0 }), board.heated('U1', hot), board.heated('U1', hot));
      for (const allowed of [1, 5, 1]) {
        await shop.revise('device-excursions', 'device-excursions', { allowed });
        await shop.recheck();
        expect((await recounted(book.recount)).differences).toEqual([]);
      }
      expect((await shop.desk()).length).toBeGreaterThan(1);
      await shop.tell({ ...board.heated('U1', hot), time: '2031-01-01T00:00:00Z' });
      await shop.tell(board.heated('U2', hot));
      const [{ counts, differences }, rechecks] = [await recounted(book.recount), await shop.rechecks('BRD/1')];
      expect(differences).toEqual([]);
      expect(rechecks.length).toBeGreaterThan(2);
      expect(counts.holds).toBeGreaterThan(1);
    });
  });
});
