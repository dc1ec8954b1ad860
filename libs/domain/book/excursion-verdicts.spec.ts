import { bases, book, figures } from '../../../test/support/domain-book.js';
import { bareTc, heat, ofDevice, onUnit, tc } from '../../../test/support/domain-events.js';
import { boardDesign, limitRule, rulesOf, siteDesign } from '../../../test/support/domain-rules.js';
import { ThermocoupleSummary } from '../events/heat.js';

const board = onUnit();
const n1 = ofDevice('N1');

/** What one placement of a fresh N1 on U1 spends of device and site, given these readings. SAC305: 217 - 5 = 212 C. */
function placing(readings: readonly ThermocoupleSummary[], rules = rulesOf(), paste?: string) {
  const told = book(
    [
      board.received(),
      n1.received(),
      board.placed('U4', 'N1', { heat: heat(...readings), ...(paste && { attach: 'paste', pasteAlloy: paste }) }),
    ],
    rules,
  );
  return { device: told.spent('N1'), site: figures(told.site('U4').excursions).used - 1, told };
}

describe('the line of an excursion (solidus of SAC305 217 C from solder makers, guard band 5 C by house policy)', () => {
  it('is passed by a peak exactly on it', () => {
    expect(placing([tc('joint', 212)])).toMatchObject({ device: 1, site: 1 });
  });

  it('is not passed a tenth below', () => {
    expect(placing([tc('joint', 211.9)])).toMatchObject({ device: 0, site: 0 });
  });

  it('is passed where peak and stated uncertainty together reach it', () => {
    expect(placing([tc('joint', 210, { uncertaintyC: 2 })]).device).toBe(1);
    expect(placing([tc('joint', 210, { uncertaintyC: 1.9 })]).device).toBe(0);
  });

  it("takes the station's thermocouple class where the event states no uncertainty (K class 1: 1.5 C, IEC 60584)", () => {
    expect(placing([bareTc('joint', 210.5)]).device).toBe(1);
    const { told, device } = placing([bareTc('joint', 210.4)]);
    expect(device).toBe(0);
    expect(told.effects(-1).find(({ kind }) => kind === 'clear')).toMatchObject({
      count: { basis: 'measured', verdict: { reading: { uncertaintyC: 1.5, uncertaintyFrom: 'station' } } },
    });
  });

  it('assumes type K class 2 where the station says nothing either (2.5 C, IEC 60584), and says that it is assumed', () => {
    const rules = rulesOf({ station: { HOT: { kind: 'hot-gas' } } });
    expect(placing([bareTc('joint', 209.4)], rules).device).toBe(0);
    const { told, device } = placing([bareTc('joint', 209.5)], rules);
    expect(device).toBe(1);
    expect(told.device('N1').excursions.counted[0]?.verdict?.reading).toMatchObject({ uncertaintyFrom: 'assumed' });
  });

  it('moves with the guard band of the most closely scoped limit', () => {
    const rules = rulesOf({
      limit: {
        wide: limitRule('guard-band', { allowed: 10, scope: { assembly: 'BRD' } }),
        none: limitRule('guard-band', { allowed: 0, scope: { assembly: 'BRD', refdes: 'U1' } }),
      },
    });
    expect(placing([tc('joint', 207)], rules).device).toBe(1);
    expect(placing([tc('joint', 206.9)], rules).device).toBe(0);
    const onU1 = book(
      [board.received(), n1.received(), board.placed('U1', 'N1', { heat: heat(tc('joint', 216.9)) })],
      rules,
    );
    expect(onU1.spent('N1')).toBe(0);
  });

  it('explains itself: reading, alloy, solidus, guard band', () => {
    const count = placing([tc('die', 231, { id: 'TC 7' })]).told.device('N1').excursions.counted[0];
    expect(count?.verdict).toEqual({
      counts: true,
      reading: { thermocouple: 'TC 7', position: 'die', peakC: 231, uncertaintyC: 0, uncertaintyFrom: 'event' },
      alloy: 'SAC305',
      solidusC: 217,
      guardBandC: 5,
    });
    expect(count?.why).toMatch(/TC 7.*231.*SAC305.*217.*5/);
    expect(count).toMatchObject({ basis: 'measured', unit: 'BRD/0001', refdes: 'U4' });
  });
});

describe('which thermocouple governs', () => {
  it.each([
    ['device by its die, though its joint is hot', [tc('die', 150), tc('joint', 240)], { device: 0, site: 1 }],
    ['device by its body, though its joint is hot', [tc('body', 150), tc('joint', 240)], { device: 0, site: 1 }],
    ['device by its die, though its joint is cool', [tc('die', 230), tc('joint', 150)], { device: 1, site: 0 }],
    [
      'device by the hotter of die and body',
      [tc('die', 150), tc('body', 230), tc('joint', 150)],
      { device: 1, site: 0 },
    ],
    ['device by its joint, lacking die and body', [tc('joint', 230)], { device: 1, site: 1 }],
    ['device never by the board: the step decides', [tc('board', 150)], { device: 1, site: 0 }],
    ['neither by the air: the step decides', [tc('air', 150)], { device: 1, site: 1 }],
    ['site by the hotter of joint and board', [tc('joint', 150), tc('board', 230)], { device: 0, site: 1 }],
    ['site not by the die: the step decides', [tc('die', 150)], { device: 0, site: 1 }],
  ])('%s', (_, readings, spent) => {
    expect(placing(readings)).toMatchObject(spent);
  });

  it('the one that reaches highest with its uncertainty, of two in one position', () => {
    const { told } = placing([tc('die', 211, { id: 'a' }), tc('die', 209, { id: 'b', uncertaintyC: 4 })]);
    expect(told.device('N1').excursions.counted[0]?.verdict?.reading.thermocouple).toBe('b');
  });

  it("a thermocouple without a refdes is on the step's own site, one with another refdes is not", () => {
    expect(placing([bareTc('joint', 100)])).toMatchObject({ device: 0, site: 0 });
    expect(placing([tc('joint', 100, { refdes: 'U4' })])).toMatchObject({ device: 0, site: 0 });
    expect(placing([tc('joint', 100, { refdes: 'U2' })])).toMatchObject({ device: 1, site: 1 });
  });
});

describe('which alloy the line is drawn for', () => {
  it('the one that begins to melt first, in a joint of two (Sn63Pb37 183 C, Sn42Bi58 138 C, from solder makers)', () => {
    expect(placing([tc('joint', 178)], rulesOf(), 'Sn63Pb37')).toMatchObject({ device: 1, site: 1 });
    expect(placing([tc('joint', 177.9)], rulesOf(), 'Sn63Pb37')).toMatchObject({ device: 0, site: 0 });
    expect(placing([tc('joint', 133)], rulesOf(), 'Sn42Bi58').device).toBe(1);
    expect(placing([tc('joint', 213)], rulesOf(), 'Sn99.3Cu0.7Ni').device).toBe(1);
  });

  it('the balls that the device was given anew', () => {
    const steps = (peakC: number) =>
      book([
        board.received(),
        n1.received(),
        n1.reballed({ ballAlloy: 'Sn42Bi58', heat: heat(tc('die', 100)) }),
        board.placed('U4', 'N1', { heat: heat(tc('die', peakC)) }),
      ]).spent('N1');
    expect([steps(132.9), steps(133)]).toEqual([0, 1]);
  });

  it('the remnant that the site was dressed with', () => {
    const dressing = (peakC: number) => {
      const steps = [board.dressed('U4', { solderAlloy: 'Sn63Pb37', heat: heat(tc('joint', 240)) })];
      const told = book([
        board.received(),
        board.removed('U4'),
        ...steps,
        board.heated('U4', { purpose: 'other', heat: heat(tc('joint', peakC)) }),
      ]);
      return told.effects(-1).map(({ kind }) => kind);
    };
    expect(dressing(178)).toContain('counted');
    expect(dressing(177.9)).toContain('clear');
  });

  it('unknown alloys give no line: the step decides, and a warning says so', () => {
    const rules = rulesOf({
      assembly: { BRD: boardDesign({ sites: [siteDesign('U4', { jointAlloy: 'Mystery' })] }) },
      part: {},
    });
    const told = book([board.received(), board.removed('U4', { heat: heat(tc('joint', 20)) })], rules);
    expect(told.spent('BRD:0001:U4')).toBe(2);
    expect(bases(told.device('BRD:0001:U4').excursions)).toEqual(['inferred']);
    expect(told.warnings()).toContain('alloy-unknown BRD/0001#U4');
  });

  it('unknown ball alloys of a loose device give no line either: the step decides, and a warning says so', () => {
    const design = boardDesign({ sites: [siteDesign('U4', { part: 'UNHEARD', jointAlloy: 'Mystery' })] });
    const told = book(
      [
        board.received({ sites: [{ refdes: 'U4', priorReworks: 0 }] }),
        board.removed('U4', { fate: 'keep', device: 'K1' }),
        ofDevice('K1').deballed({ heat: heat(tc('die', 250)) }),
      ],
      rulesOf({ assembly: { BRD: design } }),
    );
    expect(told.spent('K1')).toBe(2);
    expect(told.warnings()).toContain('alloy-unknown devices/K1');
  });
});

describe('taking balls off', () => {
  it('with a braid spends nothing where the die stays at 150 C, though the balls melt', () => {
    const told = book([n1.received(), n1.deballed({ heat: heat(tc('die', 150), tc('joint', 235)) })]);
    expect(told.spent('N1')).toBe(0);
    expect(told.effects(-1)).toContainEqual(expect.objectContaining({ kind: 'clear', limit: 'device-excursions' }));
  });

  it.each([217, 230])('over a fountain spends one where the die reaches %d C', (peakC) => {
    const told = book([n1.received(), n1.deballed({ method: 'fountain', heat: heat(tc('die', peakC)) })]);
    expect(told.spent('N1')).toBe(1);
    expect(bases(told.device('N1').excursions)).toEqual(['measured']);
  });

  it('with a braid spends one where the die was measured hot', () => {
    expect(book([n1.received(), n1.deballed({ heat: heat(tc('die', 225)) })]).spent('N1')).toBe(1);
  });

  it('over a fountain spends nothing where the die was measured cool', () => {
    expect(book([n1.received(), n1.deballed({ method: 'fountain', heat: heat(tc('die', 190)) })]).spent('N1')).toBe(0);
  });
});
