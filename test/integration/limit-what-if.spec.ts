import fc from 'fast-check';
import { holdSubjectKey } from '../../libs/domain/holds/hold-subject.js';
import { BUDGET_KINDS, LimitRule } from '../../libs/domain/limits/limit-rule.js';
import { subjectKey } from '../../libs/domain/subject/subject.js';
import { WhatIfList } from '../../libs/ledger/limits/what-if.js';
import { BookHarness, memoryHarness, postgresHarness } from '../support/book-harness.js';
import { Draft, heat, ofDevice, onUnit, said, tc } from '../support/domain-events.js';
import { LimitShop } from '../support/limit-shop.js';

const FROM = '2031-03-05T00:00:00Z';
const SITES = ['U1', 'U2', 'U4'] as const;
const SERIALS = ['BRD/1', 'BRD/2', 'ALT/1'] as const;
const hot = { heat: heat(tc('joint', 236), tc('die', 236)) };

type Act = 'heat' | 'dress' | 'reflow' | 'remove' | 'ship';
interface Step {
  readonly unit: (typeof SERIALS)[number];
  readonly act: Act;
  readonly site: (typeof SITES)[number];
  readonly late: boolean;
}

const step: fc.Arbitrary<Step> = fc.record({
  // Mostly one site of one unit, so that something comes near its limits.
  unit: fc.constantFrom(...SERIALS, 'BRD/1', 'BRD/1', 'BRD/1'),
  act: fc.oneof(
    { weight: 12, arbitrary: fc.constantFrom<Act>('heat', 'dress', 'reflow', 'remove') },
    { weight: 1, arbitrary: fc.constant<Act>('ship') },
  ),
  site: fc.constantFrom(...SITES, 'U1', 'U1', 'U1'),
  late: fc.boolean(),
});
const facts = fc.array(step, { minLength: 8, maxLength: 24 });

const scope = fc.record(
  {
    assembly: fc.constantFrom('BRD', 'ALT'),
    customer: fc.constantFrom('NORTH', 'SOUTH'),
    part: fc.constant('CHIP'),
    refdes: fc.constantFrom(...SITES),
  },
  { requiredKeys: [] },
);
const draft = fc
  .record({
    name: fc.constantFrom('own', 'house', 'house'),
    kind: fc.constantFrom<LimitRule['kind']>(...BUDGET_KINDS, 'pad-copper-min'),
    allowed: fc.integer({ min: 0, max: 7 }),
    action: fc.constantFrom('hold' as const, 'warn' as const),
    countPossible: fc.boolean(),
    scope: fc.oneof({ weight: 2, arbitrary: fc.constant({}) }, { weight: 1, arbitrary: scope }),
  })
  .map(({ name, kind, allowed, countPossible, ...rest }) => ({
    name: name === 'house' ? kind : 'own',
    kind,
    // Between what is left after one contact and after several.
    given: kind === 'pad-copper-min' ? { allowed: 35 - allowed * 0.3, ...rest } : { allowed, countPossible, ...rest },
  }));

function drafts(steps: readonly Step[]): { fact: Draft; late: boolean }[] {
  return steps.map(({ unit, act, site, late }, n) => {
    const on = onUnit(unit);
    const fact = {
      heat: () => on.heated(site, hot),
      dress: () => on.dressed(site, { contactSeconds: 20 }),
      reflow: () => on.reflowed(),
      remove: () => on.removed(site, { ...hot, fate: 'keep' }),
      ship: () => on.shipped(),
    }[act]();
    return {
      fact: said(fact, { time: new Date(Date.UTC(2031, 2, 4, 0, n)).toISOString(), id: `s${String(n)}` }),
      late,
    };
  });
}

const ARRIVALS = [
  ...SERIALS.map((unit) => onUnit(unit).received({ priorReflows: 0 })),
  ofDevice('D9').received({ priorExcursions: 2 }),
];

async function withShop<T>(make: () => Promise<BookHarness>, use: (shop: LimitShop) => Promise<T>): Promise<T> {
  const harness = await make();
  try {
    return await use(await LimitShop.open(harness));
  } finally {
    await harness.close();
  }
}

/** Subjects of a list that would be held, or would be held no longer. */
function holding({ items }: WhatIfList, side: 'now' | 'then'): string[] {
  return items.flatMap((item) => (item[side].breach === 'hold' ? [subjectKey(item.subject)] : [])).sort();
}

async function adoptAsShown(
  make: () => Promise<BookHarness>,
  steps: readonly Step[],
  { name, kind, given }: { name: string; kind: LimitRule['kind']; given: Partial<LimitRule> },
): Promise<void> {
  await withShop(make, async (shop) => {
    await shop.tell(...ARRIVALS, ...drafts(steps).map(({ fact }) => fact));
    const open = (await shop.holds()).filter((hold) => hold.state === 'open' && hold.reason === kind);
    const shown = await shop.whatIf(name, kind, given);
    await shop.revise(name, kind, given);
    await shop.recheck();
    const held = (await shop.holds()).filter(({ causes }) => causes.some(({ source }) => source === '/book/limits'));
    expect(held.map(({ subject }) => holdSubjectKey(subject)).sort()).toEqual(holding(shown.newlyInBreach, 'then'));
    const withdrawn = (await shop.holds()).filter(
      ({ id, state }) => state === 'withdrawn' && open.some((one) => one.id === id),
    );
    const foreseen = shown.noLongerInBreach.items.flatMap(({ hold }) => hold ?? []).sort();
    expect(withdrawn.map(({ id }) => id).sort()).toEqual(foreseen);
    const desk = await shop.desk();
    const entries = await Promise.all(SERIALS.map((unit) => shop.rechecks(unit)));
    await shop.recheck();
    expect(await shop.desk()).toEqual(desk);
    // Every story is told again: what comes late changes nothing.
    await shop.tell(...SERIALS.map((unit) => said(onUnit(unit).cleaned('U3'), { time: '2031-03-03T12:00:00Z' })));
    expect(await shop.desk()).toEqual(desk);
    expect(await Promise.all(SERIALS.map((unit) => shop.rechecks(unit)))).toEqual(entries);
  });
}

describe('adopting a draft does what what-if has shown, and that lasts', () => {
  it('in memory', async () => {
    await fc.assert(
      fc.asyncProperty(facts, draft, (steps, adopted) => adoptAsShown(memoryHarness, steps, adopted)),
      { numRuns: 120 },
    );
  }, 120_000);

  it('on Postgres', async () => {
    await fc.assert(
      fc.asyncProperty(facts, draft, (steps, adopted) => adoptAsShown(postgresHarness, steps, adopted)),
      { numRuns: 6 },
    );
  }, 120_000);
});

describe('facts from before a revision took effect give the same book', () => {
  it('whether they come before or after what was in the house was judged anew', async () => {
    await fc.assert(
      fc.asyncProperty(facts, draft, async (steps, { name, kind, given }) => {
        // What was known to have left by then is left alone, whatever comes to light of it later.
        const told = drafts(steps.filter(({ act }) => act !== 'ship'));
        const book = (late: (one: { late: boolean }) => boolean) =>
          withShop(memoryHarness, async (shop) => {
            await shop.revise(name, kind, { ...given, effectiveFrom: FROM });
            await shop.tell(...ARRIVALS, ...told.filter((one) => !late(one)).map(({ fact }) => fact));
            shop.setClock('2031-03-05T00:00:01Z');
            await shop.recheck();
            await shop.tell(...told.filter(late).map(({ fact }) => fact));
            const open = (await shop.desk()).filter((hold) => hold.startsWith('open') && !hold.includes('late-event'));
            return { open, picture: (await shop.book.picture()).tallies };
          });
        expect(await book(({ late }) => late)).toEqual(await book(() => false));
      }),
      { numRuns: 80 },
    );
  }, 120_000);
});
