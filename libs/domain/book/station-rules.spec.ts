import { book } from '../../../test/support/domain-book.js';
import { cool, heat, ofDevice, onUnit, said, tc } from '../../../test/support/domain-events.js';
import { limitRule, profileData, rulesOf } from '../../../test/support/domain-rules.js';

const board = onUnit();
const came = said(board.received({ sites: [{ refdes: 'U1', priorReworks: 0 }] }), { time: '2031-03-01T00:00:00Z' });
const due = (calibrationDueAt: string) => rulesOf({ station: { HOT: { kind: 'hot-gas', calibrationDueAt } } });

describe('a station whose calibration was due', () => {
  const at = (time: string) => said(board.removed('U1'), { time });

  it('holds what it measured from that very moment on', () => {
    const rules = due('2031-03-03T10:00:00+02:00');
    expect(book([came, at('2031-03-03T07:59:59.999Z')], rules).holds()).toEqual([]);
    expect(book([came, at('2031-03-03T08:00:00Z')], rules).holds()).toEqual(['calibrated-station BRD/0001']);
    expect(book([came, at('2031-03-03T10:00:01+02:00')], rules).holds()).toEqual(['calibrated-station BRD/0001']);
  });

  it('holds heats, bakes and inspections, on a unit or on a loose device', () => {
    const n1 = ofDevice('N1');
    const rules = due('2031-01-01T00:00:00Z');
    for (const step of [board.reflowed(), board.baked(), board.inspected('U1')]) {
      expect(book([came, step], rules).holds()).toEqual(['calibrated-station BRD/0001']);
    }
    for (const step of [n1.baked(), n1.reballed({ heat: heat(tc('die', 230)) })]) {
      expect(book([n1.received(), step], rules).holds()).toEqual(['calibrated-station devices/N1']);
    }
  });

  it('holds no step that measures nothing', () => {
    const steps = [came, board.cleaned('U1'), board.exposed(), board.repaired('U1'), board.shipped()];
    expect(book(steps, due('2031-01-01T00:00:00Z')).holds()).toEqual([]);
    expect(book([ofDevice('N1').received(), ofDevice('N1').deballed()], due('2031-01-01T00:00:00Z')).holds()).toEqual(
      [],
    );
  });

  it('that is unknown, or has no due date, holds nothing', () => {
    const rules = rulesOf({ station: { HOT: { kind: 'hot-gas' } } });
    expect(book([came, at('2031-03-03T08:00:00Z')], rules).holds()).toEqual([]);
    expect(book([came, said(board.reflowed(), { station: 'NEW' })], rules).holds()).toEqual([]);
  });
});

describe('the operator of a step', () => {
  const rules = rulesOf({
    operator: {
      ann: {
        qualifications: [
          { skill: 'removal', validUntil: '2031-03-03T10:00:00Z' },
          { skill: 'braid', validUntil: '2040-01-01T00:00:00Z' },
        ],
      },
    },
  });
  const removal = (operator: string, time = '2031-03-03T09:00:00Z') =>
    said(board.removed('U1', { operator }), { time });

  it('who is qualified raises nothing', () => {
    expect(book([came, removal('ann')], rules).warnings()).toEqual([]);
  });

  it('whose qualification has run out is warned about, without a hold', () => {
    const told = book([came, removal('ann', '2031-03-03T10:00:00Z')], rules);
    expect(told.warnings()).toEqual(['qualified-operator BRD/0001']);
    expect(told.holds()).toEqual([]);
  });

  it('who holds another skill is warned about', () => {
    const steps = [came, removal('ann'), board.dressed('U1', { method: 'vacuum', operator: 'ann' })];
    expect(book(steps, rules).warnings()).toEqual(['qualified-operator BRD/0001']);
    expect(book([came, removal('ann'), board.dressed('U1', { operator: 'ann' })], rules).warnings()).toEqual([]);
  });

  it('whom the setup does not know is warned about as unknown', () => {
    expect(book([came, removal('bob')], rules).warnings()).toEqual(['operator-unknown BRD/0001']);
  });

  it('who is not named raises nothing', () => {
    expect(book([came, board.removed('U1')], rules).warnings()).toEqual([]);
  });

  it('needs no qualification for steps that ask for no skill', () => {
    expect(book([came, { ...board.cleaned('U1') }, board.reflowed({ operator: 'bob' })], rules).warnings()).toEqual([]);
  });

  it('is held where a customer says so', () => {
    const strict = rulesOf({
      limit: { strict: limitRule('qualified-operator', { action: 'hold', scope: { customer: 'NORTH' } }) },
      operator: { ann: { qualifications: [] } },
    });
    const told = book([came, removal('ann')], strict);
    expect(told.holds()).toEqual(['qualified-operator BRD/0001']);
    expect(told.causes('qualified-operator')[0]?.operator).toBe('ann');
  });
});

describe('the window of a profile revision', () => {
  const rules = rulesOf({
    profile: {
      'cool@1': profileData({
        neighbourPeaks: ['U2', 'U3'].map((refdes) => ({ refdes, peakC: 150 })),
        window: {
          peakMinC: 230,
          peakMaxC: 245,
          aboveLiquidusMinS: 30,
          aboveLiquidusMaxS: 90,
          riseMaxCPerS: 3,
          fallMaxCPerS: 4,
        },
      }),
    },
  });
  const good = { secondsAboveLiquidus: 60, maxRiseCPerS: 3, maxFallCPerS: 4 };
  const holds = (reading: ReturnType<typeof tc>) =>
    book([came, board.heated('U1', { heat: heat(reading) })], rules).holds();

  it.each([230, 245])('takes a joint at its edge of %d C', (peakC) => {
    expect(holds(tc('joint', peakC, good))).toEqual([]);
  });

  it.each([
    ['too cold', tc('joint', 229.9, good)],
    ['too hot', tc('joint', 245.1, good)],
    ['too short', tc('joint', 240, { ...good, secondsAboveLiquidus: 29 })],
    ['too long', tc('joint', 240, { ...good, secondsAboveLiquidus: 91 })],
    ['rising too fast', tc('joint', 240, { ...good, maxRiseCPerS: 3.1 })],
    ['falling too fast', tc('joint', 240, { ...good, maxFallCPerS: 4.1 })],
    ['falling too fast, with its minus sign', tc('joint', 240, { ...good, maxFallCPerS: -4.1 })],
  ])('is broken by a joint %s', (_, reading) => {
    expect(holds(reading)).toEqual(['profile-window BRD/0001#U1']);
  });

  it('asks nothing of what was not measured, nor of other positions', () => {
    expect(holds(tc('joint', 240))).toEqual([]);
    expect(holds(tc('die', 260))).toEqual([]);
    expect(book([came, board.heated('U1')], rules).holds()).toEqual([]);
  });

  it.each([
    ['removal', board.removed('U1', { heat: heat(tc('joint', 250, good)) }), 'BRD/0001#U1'],
    ['placement', board.placed('U1', 'N1', { heat: heat(tc('joint', 250, good)) }), 'BRD/0001#U1'],
    ['whole-board reflow', board.reflowed({ heat: heat(tc('joint', 250, good)) }), 'BRD/0001'],
  ])('is held against every heat with a profile: a %s', (_, step, subject) => {
    expect(book([came, step], rules).holds()).toContain(`profile-window ${subject}`);
  });

  it('is not there for a revision that sets none', () => {
    expect(book([came, board.heated('U1', { heat: heat(tc('joint', 300)) })]).holds()).toEqual([]);
  });

  it('asks nothing of a neighbour that happened to be measured', () => {
    const readings = heat(tc('joint', 240, good), tc('joint', 100, { id: 'b', refdes: 'U2' }));
    expect(book([came, board.heated('U1', { heat: readings })], rules).holds()).toEqual([]);
  });

  it('lets as many figures lie outside as the limit allows', () => {
    const lenient = limitRule('profile-window', { allowed: 1, scope: { assembly: 'BRD' } });
    const told = book(
      [came, board.heated('U1', { heat: heat(tc('joint', 240, { ...good, maxRiseCPerS: 3.1 })) })],
      rulesOf({ profile: { 'cool@1': profileData({ window: { riseMaxCPerS: 3 } }) }, limit: { lenient } }),
    );
    expect(told.holds()).toEqual([]);
  });

  it('is unknown with its profile, which is warned about', () => {
    const told = book([came, board.heated('U1', { profile: { ...cool, revision: '2' } })], rules);
    expect(told.warnings()).toContain('profile-unknown BRD/0001');
  });
});

describe('the dressing methods that are allowed', () => {
  const rules = rulesOf({
    limit: { gentle: limitRule('method-allowed', { allowed: ['braid', 'vacuum'], scope: { refdes: 'U1' } }) },
  });

  it.each(['braid', 'vacuum', 'fountain', 'coupon'] as const)('are all of them in a new book: %s', (method) => {
    expect(book([came, board.removed('U1'), board.dressed('U1', { method })]).holds()).toEqual([]);
  });

  it('hold the site where another was used, and only there', () => {
    const told = book([came, board.removed('U1'), board.dressed('U1', { method: 'fountain' })], rules);
    expect(told.holds()).toEqual(['method-allowed BRD/0001#U1']);
    expect(told.causes('method-allowed')[0]?.evidence).toMatchObject({ allowed: ['braid', 'vacuum'] });
    expect(book([came, board.removed('U2'), board.dressed('U2', { method: 'fountain' })], rules).holds()).toEqual([]);
  });
});
