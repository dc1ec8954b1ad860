import { actorInWords, countedInShort, entryInWords } from './entry-words.js';
import { aCount, anEntry } from './entry-samples.js';

describe('An entry in words', () => {
  it('says what a station did, what it told and what came of it', () => {
    const dressed = anEntry({
      type: 'heatbook.site.dressed.v1',
      data: { refdes: 'U7', method: 'braid', solderAlloy: 'SAC305', passes: 3, contactSeconds: 4, note: 'slow' },
      effects: [aCount('site-dressings', { kind: 'site', refdes: 'U7' }, 'braid dressing, passes: 3')],
    });
    expect(entryInWords(dressed)).toEqual({
      title: 'U7 dressed: braid with blade tip, 3 passes',
      details: [
        'solder SAC305',
        '4 s in contact',
        'note: slow',
        'U7: one dressing counted, inferred from the step: braid dressing, passes: 3',
      ],
    });
  });

  it('tells a pass from a failure, with what was found', () => {
    const failed = anEntry({
      type: 'heatbook.inspection.recorded.v1',
      data: {
        ...{ target: { kind: 'site', refdes: 'U2' }, technique: 'xray', result: 'fail' },
        ...{ defects: [{ code: 'lifted-pad', pads: ['A1'] }], voids: [{ joint: 'B2', fraction: 0.314 }] },
      },
    });
    expect(entryInWords(failed)).toEqual({
      title: 'U2 inspected (X-ray): failed',
      details: ['lifted-pad at A1', 'worst void 31 % of its joint'],
    });
  });

  it('says of the book’s own entries why they are there', () => {
    const anew = anEntry({
      ...{ type: 'heatbook.entry.rejudged.v1', event: null },
      data: { because: [{ trace: 'T-1' }], changes: [{ event: { source: '/stations/S', id: 'e7' }, effects: [] }] },
      effects: [
        { kind: 'hold-withdrawn', hold: 'h', reason: 'late-event', subject: { kind: 'device', device: 'K-1' } },
      ],
    });
    expect(entryInWords(anew)).toEqual({
      title: 'Judged anew',
      details: [
        'because trace T-1 came after its step',
        'judged otherwise than before: e7',
        'Hold withdrawn, its cause is gone, on K-1: a late event changed a verdict',
      ],
    });
    expect(
      entryInWords(anEntry({ type: 'heatbook.entry.annulled.v1', data: { signed: { note: 'wrong board' } } })),
    ).toEqual({
      title: 'Entry struck',
      details: ['strikes event e1 of /stations/HOTGAS-1', 'note: wrong board'],
    });
  });

  it('says of a device’s entry by which step of its board it was made', () => {
    const data = { type: 'heatbook.device.placed.v1', entry: { subject: 'A-1/7', seq: 9 } };
    expect(entryInWords(anEntry({ type: 'heatbook.device.moved.v1', data })).title).toBe(
      'Device placed, a step of its board',
    );
  });

  it('shows a type and an effect that it has no words for as they are', () => {
    const unknown = anEntry({ type: 'heatbook.unit.weighed.v1', effects: [{ kind: 'weighed' }] });
    expect(entryInWords(unknown)).toEqual({ title: 'heatbook.unit.weighed.v1', details: ['weighed'] });
  });
});

describe('What an entry counted, in short', () => {
  it('names each subject, marks what is only possible, and leaves out what was measured to be clear', () => {
    const site = { kind: 'site', refdes: 'U1' };
    const effects = [
      aCount('site-excursions', site, 'measured'),
      { ...aCount('device-excursions', { kind: 'device', device: 'K-2' }, 'not measured'), kind: 'possible' },
      { ...aCount('site-excursions', { kind: 'site', refdes: 'U2' }, 'cool'), kind: 'clear' },
    ];
    expect(countedInShort({ effects })).toEqual(['U1 excursion', 'K-2 excursion?']);
  });
});

describe('Who made an entry', () => {
  it.each([
    [{ kind: 'station', station: 'HOTGAS-1', operator: 'op-1' }, undefined, 'op-1 at HOTGAS-1'],
    [{ kind: 'station', station: 'OVEN-1' }, undefined, 'OVEN-1'],
    [{ kind: 'person', name: 'q-1' }, 'Quilla Marsh', 'Quilla Marsh (q-1)'],
    [{ kind: 'person', name: 'q-1' }, undefined, 'q-1'],
    [{ kind: 'book' }, undefined, 'the book itself'],
    [null, undefined, 'unknown'],
  ])('%j is %s %s', (actor, printedName, words) => {
    expect(actorInWords(actor, printedName)).toBe(words);
  });
});
