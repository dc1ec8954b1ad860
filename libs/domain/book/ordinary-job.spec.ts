import { figures, ToldBook } from '../../../test/support/domain-book.js';
import { clearance, cleared, worldWith } from '../../../test/support/domain-clearances.js';
import { bareTc, Draft, heat, ofDevice, onUnit } from '../../../test/support/domain-events.js';
import { boardDesign, limitRule, profileData, rulesOf } from '../../../test/support/domain-rules.js';
import { SKILLS } from '../setup/setup-data.js';

const rules = rulesOf({
  limit: { 'clearance-required': limitRule('clearance-required', {}) },
  assembly: { BRD: boardDesign({ assemblyReflows: { top: 1, bottom: 2 } }) },
  operator: { ann: { qualifications: SKILLS.map((skill) => ({ skill, validUntil: '2040-01-01T00:00:00Z' })) } },
  profile: {
    'cool@1': profileData({
      assembly: 'BRD',
      site: 'U1',
      qualifiedAt: '2030-01-01T00:00:00Z',
      neighbourPeaks: ['U2', 'U3'].map((refdes) => ({ refdes, peakC: 165 })),
      window: {
        peakMinC: 225,
        peakMaxC: 250,
        aboveLiquidusMinS: 30,
        aboveLiquidusMaxS: 90,
        riseMaxCPerS: 3,
        fallMaxCPerS: 4,
      },
    }),
  },
});
const board = onUnit();
const operator = 'ann';
const hot = heat(
  { ...bareTc('joint', 236), secondsAboveLiquidus: 55, liquidusC: 217, maxRiseCPerS: 2, maxFallCPerS: 3 },
  bareTc('body', 232),
  bareTc('board', 150),
);

/** One device of a double-sided board replaced, every step posted, everything declared. */
const steps: readonly Draft[] = [
  board.received({
    workOrder: 'W-1',
    complaint: 'no video',
    priorReflows: 2,
    devices: ['U1', 'U2', 'U3', 'U4'].map((refdes) => ({ refdes, priorExcursions: refdes === 'U3' ? 2 : 1 })),
    sites: ['U1', 'U2', 'U3', 'U4'].map((refdes) => ({ refdes, priorReworks: 0 })),
  }),
  board.exposed(),
  board.stored({ storage: 'dry-cabinet' }),
  board.baked({ operator }),
  cleared(board.removed('U1', { operator, heat: hot })),
  cleared(board.dressed('U1', { operator, passes: 2, heat: heat(bareTc('joint', 240)) })),
  board.cleaned('U1'),
  board.inspected('U1', { operator, technique: 'visual' }),
  ofDevice('N1').received({ lot: 'L7', dateCode: '3107', packSealedAt: '2031-02-01T00:00:00Z' }),
  cleared(board.placed('U1', 'N1', { operator, part: 'CHIP', heat: hot })),
  board.cleaned('U1'),
  board.inspected('U1', { operator, technique: 'xray', voids: [{ joint: 'A1', fraction: 0.12 }] }),
  board.inspected('U1', { operator, technique: 'xrf', leadPct: 0.02 }),
  board.inspected('U1', { operator, target: { kind: 'unit' }, technique: 'electrical' }),
  board.shipped(),
];

const profile = { name: 'cool', revision: '1' };

/** The book as it is told of the job, which was cleared before it got hot. */
function book(drafts: readonly Draft[]): ToldBook {
  const asked = clearance([
    { type: 'heatbook.device.removed.v1', refdes: 'U1', fate: 'scrap', profile },
    { type: 'heatbook.site.dressed.v1', refdes: 'U1', method: 'braid' },
    { type: 'heatbook.device.placed.v1', refdes: 'U1', device: 'N1', profile },
  ]);
  return new ToldBook(worldWith(asked)).tell(drafts, rules);
}

describe('an ordinary job on a double-sided board', () => {
  const told = book(steps);

  it('raises no hold and no warning', () => {
    expect(told.holds()).toEqual([]);
    expect(told.warnings()).toEqual([]);
    expect(told.outcomes.every(({ state }) => state === 'applied')).toBe(true);
  });

  it('leaves every figure where the trade would have it', () => {
    // Site: two passes of the build, removal, braid, placement.
    expect(figures(told.site('U1').excursions)).toEqual({ used: 5, possible: 0 });
    expect(figures(told.site('U1').reworks).used).toBe(1);
    expect(figures(told.site('U1').dressings).used).toBe(1);
    expect(told.site('U1').passes).toBe(2);
    // The old device: build and removal. The new one: its placement.
    expect([told.spent('BRD:0001:U1'), told.spent('N1')]).toEqual([2, 1]);
    expect(figures(told.unit().reflows).used).toBe(2);
    for (const refdes of ['U2', 'U3', 'U4'])
      expect(figures(told.site(refdes).excursions)).toEqual({ used: 2, possible: 0 });
    expect(told.spent('BRD:0001:U3')).toBe(2);
    expect(told.unit().status).toBe('shipped');
  });

  it('raises nothing either where nothing was measured', () => {
    const unmeasured = steps.map((step) =>
      'heat' in step.data ? { ...step, data: { ...step.data, heat: heat() } } : step,
    );
    const quiet = book(unmeasured as Draft[]);
    expect([quiet.holds(), quiet.warnings()]).toEqual([[], []]);
    expect(figures(quiet.site('U1').excursions)).toEqual({ used: 5, possible: 0 });
  });
});
