import { book } from '../../../test/support/domain-book.js';
import { ofDevice, onUnit } from '../../../test/support/domain-events.js';
import { boardDesign, limitRule, rulesOf } from '../../../test/support/domain-rules.js';
import { DefectCode, InspectionRecorded } from '../events/station-event.js';

const board = onUnit();
const bare = [board.received(), board.removed('U1'), board.dressed('U1')];
const fitted = [...bare, ofDevice('N1').received(), board.placed('U1', 'N1')];
const found = (...codes: DefectCode[]): Partial<InspectionRecorded> => ({
  technique: 'visual',
  result: 'fail',
  defects: codes.map((code) => ({ code })),
});

describe('a failed inspection of a site', () => {
  it.each([
    ['residual solder', ['residual-solder'], 'to-dress'],
    ['contamination', ['contamination'], 'to-clean'],
    ['both', ['contamination', 'residual-solder'], 'to-dress'],
  ] as [string, DefectCode[], string][])('with %s only sends it back, without a hold', (_, codes, condition) => {
    const told = book([...bare, board.inspected('U1', found(...codes))]);
    expect(told.site('U1').condition).toBe(condition);
    expect(told.holds()).toEqual([]);
  });

  it('is answered by dressing again, or by cleaning', () => {
    const dirty = [...bare, board.inspected('U1', found('contamination'))];
    expect(book([...dirty, board.cleaned('U1')]).site('U1').condition).toBe('dressed');
    const lumpy = [...bare, board.inspected('U1', found('residual-solder'))];
    expect(book([...lumpy, board.cleaned('U1')]).site('U1').condition).toBe('to-dress');
    const again = book([...lumpy, board.dressed('U1'), board.inspected('U1'), board.placed('U1', 'N1')]);
    expect(again.site('U1').condition).toBe('fitted');
    expect(again.holds()).toEqual([]);
  });

  it.each(['lifted-pad', 'missing-pad', 'scratched-mask', 'thin-pad'] as const)('with a %s is a hold', (code) => {
    const inspection = board.inspected('U1', {
      technique: 'visual',
      result: 'fail',
      defects: [{ code, pads: ['A1', 'B7'] }, { code: 'residual-solder' }],
    });
    const told = book([...bare, inspection]);
    expect(told.holds()).toEqual(['damage-found BRD/0001#U1']);
    expect(told.site('U1').condition).toBe('damaged');
    expect(told.causes('damage-found')[0]?.evidence.details).toEqual([`${code}: pads A1, B7`]);
  });

  it('leaves damage damaged until it is repaired, also after a dressing and a pass', () => {
    const damaged = [...bare, board.inspected('U1', found('lifted-pad'))];
    expect(book([...damaged, board.dressed('U1'), board.inspected('U1')]).site('U1').condition).toBe('damaged');
    expect(book([...damaged, board.repaired('U1')]).site('U1').condition).toBe('to-dress');
  });

  it.each(['bridge', 'open', 'head-in-pillow', 'misaligned'] as const)(
    'with a %s asks for rework of the joint',
    (code) => {
      expect(book([...fitted, board.inspected('U1', found(code))]).site('U1').condition).toBe('to-rework');
    },
  );

  it('of a whole unit for contamination sends the worked sites to cleaning', () => {
    const ionic = { target: { kind: 'unit' }, technique: 'ionic', result: 'fail' } as const;
    const told = book([...fitted, board.inspected('U1', { ...ionic, defects: [{ code: 'contamination' }] })]);
    expect(told.holds()).toEqual([]);
    expect(told.site('U1').condition).toBe('to-clean');
  });
});

describe('damage to a device', () => {
  it('found on the bench is a hold on the device', () => {
    const told = book([ofDevice('N1').received(), ofDevice('N1').inspected(found('lifted-pad'))]);
    expect(told.holds()).toEqual(['damage-found devices/N1']);
  });

  it('found on its board is a hold on the device, named by its site or by itself', () => {
    for (const target of [{ refdes: 'U1' }, { device: 'N1' }, { refdes: 'U1', device: 'N1' }]) {
      const inspection = board.inspected('U1', { ...found('missing-pad'), target: { kind: 'device', ...target } });
      expect(book([...fitted, inspection]).holds()).toEqual(['damage-found devices/N1']);
    }
  });
});

describe('voids (IPC-A-610 revision F and later, from memory: 0.30 of the ball area)', () => {
  const voids = (...fractions: number[]): Partial<InspectionRecorded> => ({
    voids: fractions.map((fraction, n) => ({ joint: `A${String(n + 1)}`, fraction })),
  });

  it('at the limit are accepted', () => {
    expect(book([...fitted, board.inspected('U1', voids(0.1, 0.3))]).holds()).toEqual([]);
  });

  it('above it are a hold, whatever the inspector called the result', () => {
    const told = book([...fitted, board.inspected('U1', voids(0.31, 0.1, 0.5))]);
    expect(told.holds()).toEqual(['void-fraction-max BRD/0001#U1']);
    expect(told.causes('void-fraction-max')[0]?.evidence).toMatchObject({
      allowed: 0.3,
      details: ['A1: 0.31', 'A3: 0.5'],
    });
  });

  it('follow the limit of the customer', () => {
    const rules = rulesOf({
      limit: { tight: limitRule('void-fraction-max', { allowed: 0.25, scope: { refdes: 'U1' } }) },
    });
    expect(book([...fitted, board.inspected('U1', voids(0.26))], rules).holds()).toHaveLength(1);
  });
});

describe('lead that was measured (Directive 2011/65/EU: 0.1 wt%)', () => {
  const xrf = (leadPct: number) => board.inspected('U1', { technique: 'xrf', leadPct });

  it('above the limit on a lead-free assembly is a hold on the site', () => {
    expect(book([...bare, xrf(0.11)]).holds()).toEqual(['joint-lead-max BRD/0001#U1']);
  });

  it('at the limit is accepted', () => {
    expect(book([...bare, xrf(0.1)]).holds()).toEqual([]);
  });

  it('on a leaded assembly is nothing to remark on', () => {
    const rules = rulesOf({ assembly: { BRD: boardDesign({ leadFree: false }) } });
    const told = book([...bare, xrf(37)], rules);
    expect([told.holds(), told.effects(-1).filter(({ kind }) => kind === 'warned')]).toEqual([[], []]);
  });
});

describe('an inspection that names a device which another is in the place of', () => {
  it('puts the device in the book, so that its story leads back to the unit', () => {
    const told = book([
      board.received(),
      board.inspected('U1', { target: { kind: 'device', refdes: 'U1', device: 'N3' } }),
    ]);
    expect(told.device('N3')).toMatchObject({ status: 'loose', unitsSeen: ['BRD/0001'] });
    expect(told.holds()).toEqual([expect.stringContaining('identity-conflict')]);
  });
});
