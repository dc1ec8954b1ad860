import { book } from '../../../test/support/domain-book.js';
import { heat, onUnit, tc } from '../../../test/support/domain-events.js';
import { boardDesign, rulesOf, siteDesign } from '../../../test/support/domain-rules.js';

const board = onUnit();
const came = board.received({ sites: [{ refdes: 'U1', priorReworks: 0 }] });
const fountain = (contactSeconds: number, solderC = 260) =>
  board.dressed('U1', { method: 'fountain', solderAlloy: 'SAC305', contactSeconds, solderC, flowing: true });

describe('pad copper (rates: the default model, an assumption)', () => {
  it('holds a site once its pads are estimated below the limit of 10 um', () => {
    // 35 um less 0.95 um/s x 26.2 s = 10.11 um; a twentieth of a second more than 26.3158 s is below.
    expect(book([came, board.removed('U1'), fountain(26.2)]).holds()).toEqual([]);
    const [cause] = book([came, board.removed('U1'), fountain(26.4)]).causes('pad-copper-min');
    expect(cause?.subject).toEqual({ kind: 'site', assembly: 'BRD', serial: '0001', refdes: 'U1' });
    expect(cause?.evidence.summary).toContain('by estimate (rates: assumed)');
  });

  it('adds up over dressings', () => {
    const twice = book([came, board.removed('U1'), fountain(14), fountain(14)]);
    expect(twice.holds()).toEqual(['pad-copper-min BRD/0001#U1']);
  });

  it('says nothing of a nickel finish', () => {
    const rules = rulesOf({ assembly: { BRD: boardDesign({ sites: [siteDesign('U1', { finish: 'enig' })] }) } });
    expect(book([came, board.removed('U1'), fountain(600)], rules).holds()).toEqual([]);
  });
});

describe('lead in the joints of a lead-free assembly', () => {
  const leaded = { ballDiameterMm: 0.6, padDiameterMm: 0.45 };
  const place = (data: object = {}) => board.placed('U1', 'N1', { heat: heat(tc('joint', 236)), ...data });

  it('is warned about where a leaded film was left: .60 ball, .45 pad, 10 um film is .58 wt% (worked figure)', () => {
    const rules = rulesOf({ assembly: { BRD: boardDesign({ sites: [siteDesign('U1', leaded)] }) } });
    const film = board.dressed('U1', { solderAlloy: 'Sn63Pb37', remnantHeightUm: 10 });
    const told = book([came, board.removed('U1'), film, place()], rules);
    const [warning] = told.unit().warnings.filter(({ code }) => code === 'joint-lead-max');
    expect(warning?.detail).toContain('0.58 wt%');
    expect(told.causes('joint-lead-max')).toEqual([]);
  });

  it('is nothing to speak of where all is lead-free, or where the assembly may have lead', () => {
    expect(book([came, board.removed('U1'), board.dressed('U1'), place()]).warnings()).not.toContain(
      'joint-lead-max BRD/0001#U1',
    );
    const rules = rulesOf({ assembly: { BRD: boardDesign({ leadFree: false }) } });
    const film = board.dressed('U1', { solderAlloy: 'Sn63Pb37', remnantHeightUm: 10 });
    expect(book([came, board.removed('U1'), film, place()], rules).warnings()).not.toContain(
      'joint-lead-max BRD/0001#U1',
    );
  });

  it('is overridden by a measurement, and a disagreement is said', () => {
    const rules = rulesOf({ assembly: { BRD: boardDesign({ sites: [siteDesign('U1', leaded)] }) } });
    const film = board.dressed('U1', { solderAlloy: 'Sn63Pb37', remnantHeightUm: 10 });
    const xrf = board.inspected('U1', { technique: 'xrf', leadPct: 0.04 });
    const told = book([came, board.removed('U1'), film, place(), xrf], rules);
    expect(told.site('U1').lead).toMatchObject({ measuredPct: 0.04, estimate: { basis: 'inferred' } });
    expect(told.warnings()).toContain('lead-disagreement BRD/0001#U1');
    expect(told.causes('joint-lead-max')).toEqual([]);
  });

  it('is seen in leaded paste too', () => {
    const told = book([
      came,
      board.removed('U1'),
      board.dressed('U1'),
      place({ attach: 'paste', pasteAlloy: 'Sn63Pb37', pasteVolumeMm3: 10 }),
    ]);
    expect(told.warnings()).toContain('joint-lead-max BRD/0001#U1');
  });
});

describe('site flatness by pitch (house limits from makers, from memory: 1.0 mm pitch has 0.20 mm)', () => {
  const map = (liftUm: number) =>
    [0, 1, 2, 3].flatMap((x) => [0, 1, 2, 3].map((y) => ({ xMm: x, yMm: y, zUm: x === 1 && y === 1 ? -liftUm : 0 })));
  const measured = (heightsUm: readonly { xMm: number; yMm: number; zUm: number }[]) =>
    board.inspected('U1', { technique: 'height-map', result: 'pass', heightsUm });

  it('holds a site above it, whatever the station called it', () => {
    expect(book([came, measured(map(200))]).holds()).toEqual([]);
    expect(book([came, measured(map(201))]).holds()).toEqual(['flatness-max BRD/0001#U1']);
  });

  it('warns of a map that cannot be judged', () => {
    expect(book([came, measured([{ xMm: 0, yMm: 0, zUm: 0 }])]).warnings()).toEqual(['flatness-max BRD/0001#U1']);
  });
});
