import { aCount, anEntry } from './entry-samples.js';
import { ledgerStory } from './ledger-story.js';
import { heatsDrawn, heatsToDraw, toldHeats } from './told-heats.js';

const thermocouples = [{ id: 'TC1', position: 'joint', peakC: 235 }];
const heat = { startedAt: '2026-03-03T08:00:00Z', endedAt: '2026-03-03T08:06:00Z', thermocouples };
const site = { kind: 'site', refdes: 'U1' };

function anyHeat(seq: number, more: object = {}, solidusC = 217) {
  const verdict = { counts: true, alloy: 'SAC305', solidusC, guardBandC: 5 };
  return anEntry({
    ...{ seq, event: { source: '/stations/S', id: `e${seq}` } },
    data: { refdes: 'U1', purpose: 'touch-up', heat: { ...heat, ...more } },
    effects: [aCount('site-excursions', site, 'measured', verdict)],
  });
}

describe('The heats of a ledger', () => {
  it('are its entries with a heat, with what each was held against', () => {
    const [told, ...others] = toldHeats(ledgerStory([anyHeat(2), anEntry({ seq: 1 })]));
    expect(others).toEqual([]);
    expect(told).toMatchObject({
      ...{ seq: 2, title: 'U1 heated: touch-up', refdes: 'U1', trace: undefined, struckBy: null },
      line: { atC: 212, solidusC: 217, alloy: 'SAC305' },
    });
  });

  it('have no line where nothing was measured', () => {
    const guessed = anEntry({ data: { heat }, effects: [aCount('site-excursions', site, 'by its step')] });
    expect(toldHeats(ledgerStory([guessed]))[0]?.line).toBeNull();
  });

  it('are drawn, unless chosen otherwise, from the latest traces, without struck ones', () => {
    const struck = anEntry({ seq: 5, type: 'heatbook.entry.annulled.v1', event: { source: '/stations/S', id: 'e4' } });
    const entries = [1, 2, 3, 4].map((seq) => anyHeat(seq, seq === 2 ? {} : { trace: `T-${seq}` }));
    const heats = toldHeats(ledgerStory([...entries, struck]));
    expect([...heatsToDraw(heats, 3)]).toEqual([1, 3]);
    expect([...heatsToDraw(heats, 1)]).toEqual([3]);
  });
});

describe('Heats over each other', () => {
  const [first, second] = toldHeats(ledgerStory([anyHeat(1, { trace: 'A' }), anyHeat(2, { trace: 'B' }, 183)]));
  if (first === undefined || second === undefined) throw new Error('two heats are told');
  const curve = {
    ...{ seconds: [100, 110, 120], channels: [{ name: 'TC1', state: 'ok', atC: [25, 230, null] }] },
    above: [{ channel: 'TC1', fromS: 108, toS: 112 }],
  };

  it('begin at their own first sample, each with its line and the stretches over it', () => {
    const drawn = heatsDrawn([
      { heat: first, curve },
      { heat: second, curve: { ...curve, seconds: [0, 10, 20], above: [] } },
    ]);
    expect(drawn.curves.map(({ name, seconds }) => [name, seconds])).toEqual([
      ['Entry 1, U1', [0, 10, 20]],
      ['Entry 2, U1', [0, 10, 20]],
    ]);
    expect(drawn.above).toEqual([{ curve: 'Entry 1, U1', channel: 'TC1 joint', fromS: 8, toS: 12, overC: 212 }]);
    expect(drawn.lines.map(({ atC }) => atC)).toEqual([212, 217, 178, 183]);
  });

  it('say of a channel that it is not to be trusted', () => {
    const open = { ...curve, channels: [{ name: 'TC9', state: 'open', atC: [null, null, null] }], above: [] };
    expect(heatsDrawn([{ heat: first, curve: open }]).curves[0]?.channels[0]?.name).toBe('TC9, open circuit');
  });

  it('share a line that they have in common', () => {
    const drawn = heatsDrawn([
      { heat: first, curve },
      { heat: first, curve },
    ]);
    expect(drawn.lines).toHaveLength(2);
  });
});
