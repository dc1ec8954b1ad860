import fc from 'fast-check';
import { annulEvent } from '../../libs/ledger/annulments/annul-event.js';
import { findTouched } from '../../libs/ledger/containment/find-touched.js';
import { microTime, SuspectCause, Suspicion } from '../../libs/ledger/containment/suspect-cause.js';
import { BookHarness, memoryHarness, postgresHarness } from '../support/book-harness.js';
import { anyDrafts, movingDrafts } from '../support/domain-arbitraries.js';
import { Draft, eventOf } from '../support/domain-events.js';
import { boardDesign, partData, profileData } from '../support/domain-rules.js';
import { mulberry32 } from '../support/mulberry32.js';
import { naiveTouched } from '../support/naive-touched.js';

const causes: readonly SuspectCause[] = [
  ...['HOT', 'OLD'].map((station) => ({ kind: 'station', station }) as const),
  { kind: 'operator', operator: 'ann' },
  { kind: 'profile', name: 'cool' },
  { kind: 'profile', name: 'mute', revision: '1' },
  { kind: 'profile', name: 'mute', revision: '2' },
  { kind: 'lot', lot: 'P1' },
  { kind: 'lot', lot: 'L1' },
  { kind: 'solder-alloy', solderAlloy: 'SAC305' },
  { kind: 'limit', limit: 'site-dressings' },
  ...['N1', 'N2', 'BRD:0001:U1'].map((device) => ({ kind: 'device', device }) as const),
  ...['CHIP', 'TOUGH'].map((part) => ({ kind: 'part', part }) as const),
];

const STREAMS = [
  ...['BRD/0001', 'BRD/0002', 'stations/HOT', 'devices/N1', 'devices/N2', 'devices/N3'],
  ...['0001', '0002'].flatMap((serial) => ['U1', 'U2', 'U3', 'U4'].map((refdes) => `devices/BRD:${serial}:${refdes}`)),
];

interface History {
  readonly drafts: readonly Draft[];
  /** The order of arrival, by chance. */
  readonly seed: number;
  /** Which of the events is annulled, if it was taken in. */
  readonly annulled: number;
}

async function tell(harness: BookHarness, { drafts, seed, annulled }: History): Promise<void> {
  const { setupStore, deps } = harness;
  await setupStore.revise('assembly', 'BRD', boardDesign(), 'test');
  for (const name of ['CHIP', 'TOUGH']) await setupStore.revise('part', name, partData(), 'test');
  for (const name of ['cool@1', 'mute@1']) await setupStore.revise('profile', name, profileData(), 'test');
  const random = mulberry32(seed);
  const events = drafts
    .map((draft, place) => ({ event: eventOf(draft, place), place: random() < 0.8 ? place : random() * drafts.length }))
    .sort((a, b) => a.place - b.place)
    .map(({ event: { type, subject, time, data, order } }) => {
      const { source, id } = order;
      return { specversion: '1.0', type, source, id, subject, time, data };
    });
  for (let n = 0; n < events.length; n += 5) {
    await harness.post(events.slice(n, n + 5));
    await harness.fold();
  }
  const event = events[annulled % Math.max(events.length, 1)];
  if (event === undefined) return;
  const signer = { name: 'q-1', named: 'a1', roles: ['quality'], meaning: 'not so' } as const;
  await annulEvent(deps, { event, subject: event.subject, note: 'another board', signer });
}

async function expectTheSame(harness: BookHarness, suspicion: Suspicion): Promise<readonly string[]> {
  const entries = (
    await Promise.all(STREAMS.map((key) => harness.reads.ledger(key, { limit: 500, order: 'asc', afterSeq: null })))
  ).flat();
  const states = new Map((await harness.reads.subjects(STREAMS)).map(({ key, state }) => [key, state]));
  const found = await findTouched({ search: harness.search, setup: harness.deps.setup }, suspicion);
  const naive = naiveTouched(entries, (key) => states.get(key) ?? null, suspicion);
  expect({ cause: suspicion.cause, touched: found.map(({ key }) => key) }).toEqual({
    cause: suspicion.cause,
    touched: naive,
  });
  return naive;
}

const histories = fc.record({
  drafts: fc.oneof(anyDrafts, movingDrafts),
  seed: fc.nat(),
  annulled: fc.nat(30),
});
/** Minutes of the history, from and to. */
const spans = fc.uniqueArray(fc.nat(24), { minLength: 2, maxLength: 2 }).map((ends) => ends.sort((a, b) => a - b));

function spanOf([first = 0, last = 0]: readonly number[]): { from: string; to: string } {
  const at = (minute: number): string =>
    microTime(new Date(Date.parse('2031-03-03T06:00:00Z') + minute * 60_000).toISOString());
  return { from: at(first), to: at(last) };
}

async function holdsFor(make: () => Promise<BookHarness>, numRuns: number): Promise<number> {
  let touched = 0;
  await fc.assert(
    fc.asyncProperty(histories, spans, async (history, span) => {
      const harness = await make();
      try {
        await tell(harness, history);
        for (const cause of causes) touched += (await expectTheSame(harness, { cause, ...spanOf(span) })).length;
      } finally {
        await harness.close();
      }
    }),
    { numRuns },
  );
  return touched;
}

describe('what a cause reached', () => {
  it('is what a look at every entry there is says, in memory', async () => {
    expect(await holdsFor(memoryHarness, 60)).toBeGreaterThan(100);
  }, 120_000);

  it('is so on Postgres', async () => {
    expect(await holdsFor(postgresHarness, 12)).toBeGreaterThan(10);
  }, 120_000);
});
