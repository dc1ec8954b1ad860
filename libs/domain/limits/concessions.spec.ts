import fc from 'fast-check';
import { limitRule, rulesOf } from '../../../test/support/domain-rules.js';
import { orderTime } from '../events/event-order.js';
import { ConcessionData, Rules } from '../setup/setup-data.js';
import { Subject, subjectKey } from '../subject/subject.js';
import { Allowed, LimitRule } from './limit-rule.js';
import { LimitPlace, resolveLimit, revisionInForce } from './resolve-limit.js';

const SITE: Subject = { kind: 'site', assembly: 'BRD', serial: '1', refdes: 'U1' };
const at = orderTime('2031-03-03T12:00:00Z');
const HERE: LimitPlace = { customer: 'NORTH', assembly: 'BRD', part: 'CHIP', refdes: 'U1', subject: SITE, at };

function concession(given: Partial<ConcessionData>): ConcessionData {
  return {
    subject: SITE,
    limit: 'site-reworks',
    allowed: 5,
    from: '2031-03-03T00:00:00Z',
    customerReference: 'MAIL 12',
    withdrawn: false,
    ...given,
  };
}

const allowed = (given: Partial<ConcessionData>, kind = 'site-reworks' as LimitRule['kind'], place = HERE) =>
  resolveLimit(rulesOf({ concession: { c: concession({ limit: kind, ...given }) } }), kind, place)?.allowed;

describe('a concession', () => {
  it('takes the place of what the limit allows, and says so', () => {
    expect(resolveLimit(rulesOf({ concession: { c7: concession({}) } }), 'site-reworks', HERE)).toMatchObject({
      name: 'site-reworks',
      revision: 1,
      allowed: 5,
      concession: 'c7',
      source: expect.stringMatching(/House policy.*customer: MAIL 12/) as string,
    });
  });

  it('never tightens', () => {
    expect(allowed({ allowed: 2 })).toBe(3);
    expect(allowed({ allowed: 3 })).toBe(3);
    expect(allowed({ allowed: 12 }, 'pad-copper-min')).toBe(10);
    expect(allowed({ allowed: 8 }, 'pad-copper-min')).toBe(8);
  });

  it('loosens a table by pitch row by row', () => {
    expect(allowed({ allowed: 0.11 }, 'flatness-max')).toEqual([
      { pitchMm: 0.5, max: 0.11 },
      { pitchMm: 0.65, max: 0.11 },
      { pitchMm: 0.8, max: 0.12 },
      { pitchMm: 1.27, max: 0.2 },
    ]);
  });

  it('does nothing to limits that no figure makes looser', () => {
    expect(allowed({ allowed: 9 }, 'method-allowed')).toEqual(['braid', 'vacuum', 'fountain', 'coupon']);
    expect(allowed({ allowed: 9 }, 'calibrated-station')).toBe(0);
  });

  it('is for its subject alone', () => {
    const other: Subject = { ...SITE, serial: '2' };
    expect(allowed({}, 'site-reworks', { ...HERE, subject: other })).toBe(3);
    expect(allowed({}, 'site-reworks', { ...HERE, subject: undefined })).toBe(3);
    expect(allowed({ limit: 'site-dressings' })).toBe(3);
  });

  it('holds from its time on, until it is withdrawn', () => {
    expect(allowed({ from: '2031-03-03T12:00:00Z' })).toBe(5);
    expect(allowed({ from: '2031-03-03T12:00:00.000000001Z' })).toBe(3);
    expect(allowed({ withdrawn: true })).toBe(3);
  });
});

describe('the revision in force', () => {
  const line = (...from: readonly (string | undefined)[]) =>
    from
      .map((effectiveFrom, n) => ({
        name: 'l',
        revision: n + 1,
        body: limitRule('site-reworks', effectiveFrom === undefined ? {} : { effectiveFrom }),
      }))
      .reverse();
  const inForce = (revisions: ReturnType<typeof line>) => revisionInForce(revisions, at)?.revision;

  it('is the newest of those that have taken effect, from the very instant', () => {
    expect(inForce(line(undefined, '2031-03-03T12:00:00Z'))).toBe(2);
    expect(inForce(line(undefined, '2031-03-03T13:00:00+01:00'))).toBe(2);
    expect(inForce(line(undefined, '2031-03-03T12:00:00.000000001Z'))).toBe(1);
    expect(inForce(line(undefined, '2031-03-04T00:00:00Z', undefined))).toBe(3);
    expect(inForce(line(undefined, '2031-03-01T00:00:00Z', '2031-02-01T00:00:00Z'))).toBe(3);
  });

  it('is none before the first has taken effect', () => {
    expect(inForce(line('2031-03-04T00:00:00Z'))).toBeUndefined();
  });
});

interface Entered {
  readonly name: string;
  readonly revision: number;
  readonly body: LimitRule;
}

const times = fc.constantFrom('2031-03-02T00:00:00Z', '2031-03-03T12:00:00Z', '2031-03-04T00:00:00Z');
const kinds = fc.constantFrom<LimitRule['kind']>('site-reworks', 'pad-copper-min');
const scopes = fc.record(
  {
    customer: fc.constantFrom('NORTH', 'SOUTH'),
    assembly: fc.constantFrom('BRD', 'ALT'),
    refdes: fc.constantFrom('U1', 'U2'),
  },
  { requiredKeys: [] },
);
const revisions: fc.Arbitrary<Entered[]> = fc
  .array(
    fc.record({
      name: fc.constantFrom('a', 'b', 'c'),
      allowed: fc.integer({ min: 0, max: 6 }),
      action: fc.constantFrom('hold' as const, 'warn' as const),
      scope: scopes,
      from: fc.option(times, { nil: undefined }),
    }),
    { maxLength: 8 },
  )
  .map((all) => all.map(({ from, ...rest }, n) => ({ ...rest, ...(from && { effectiveFrom: from }), n })))
  .map((all) =>
    all.map(({ name, n, ...given }) => ({
      name,
      revision: all.filter((other) => other.name === name && other.n <= n).length,
      body: limitRule('site-reworks', given),
    })),
  );
const concessions = fc.array(
  fc.record({
    subject: fc.constantFrom<Subject>(SITE, { kind: 'unit', assembly: 'BRD', serial: '1' }),
    limit: kinds,
    allowed: fc.integer({ min: 0, max: 8 }),
    from: times,
    withdrawn: fc.boolean(),
    customerReference: fc.constant('MAIL 12'),
  }),
  { maxLength: 4 },
);

/** By trying everything in the order of the rules as they are written down. */
function naive(
  kind: LimitRule['kind'],
  entered: readonly Entered[],
  given: readonly ConcessionData[],
): Allowed | undefined {
  const least = kind === 'pad-copper-min';
  const names = [...new Set(entered.map(({ name }) => name))];
  const inForce = names.flatMap((name) => {
    const own = entered.filter((one) => one.name === name);
    const begun = own.filter(({ body }) => body.effectiveFrom === undefined || orderTime(body.effectiveFrom) <= at);
    return begun.sort((a, b) => b.revision - a.revision).slice(0, 1);
  });
  const place: Readonly<Record<string, unknown>> = { ...HERE };
  const matching = inForce.filter(({ body }) =>
    Object.entries(body.scope).every(([field, value]) => place[field] === value),
  );
  const most = Math.max(...matching.map(({ body }) => Object.keys(body.scope).length));
  const figures = matching
    .filter(({ body }) => Object.keys(body.scope).length === most)
    .map(({ body }) => Number(body.allowed));
  if (figures.length === 0) return undefined;
  const strictest = least ? Math.max(...figures) : Math.min(...figures);
  const looser = given
    .filter((one) => subjectKey(one.subject) === subjectKey(SITE) && one.limit === kind && !one.withdrawn)
    .filter((one) => orderTime(one.from) <= at)
    .map((one) => one.allowed);
  return least ? Math.min(strictest, ...looser) : Math.max(strictest, ...looser);
}

function rulesWith(kind: LimitRule['kind'], entered: readonly Entered[], given: readonly ConcessionData[]): Rules {
  const byName = new Map<string, Entered[]>();
  for (const one of entered) byName.set(one.name, [one, ...(byName.get(one.name) ?? [])]);
  const records = given.map((body, n) => ({ name: `c${String(n)}`, revision: 1, body }));
  return {
    version: 1,
    find: () => undefined,
    limits: (wanted) => (wanted === kind ? [...byName.values()] : []),
    concessions: (key) => records.filter(({ body }) => subjectKey(body.subject) === key),
  };
}

it('resolves as a naive reading of the rules does, whatever was entered and conceded', () => {
  fc.assert(
    fc.property(kinds, revisions, concessions, (kind, entered, given) => {
      const own = entered.map((one) => ({ ...one, body: { ...one.body, kind } }));
      const found = resolveLimit(rulesWith(kind, own, given), kind, HERE);
      expect(found?.allowed).toEqual(naive(kind, own, given));
    }),
    { numRuns: 2000 },
  );
});
