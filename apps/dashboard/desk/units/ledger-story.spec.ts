import { aCount, anEntry } from './entry-samples.js';
import { laterOf, laterWords, ledgerStory } from './ledger-story.js';

const count = aCount('site-excursions', { kind: 'site', refdes: 'U1' }, 'measured');
const heated = anEntry({ seq: 2, effects: [count] });
const received = anEntry({ seq: 1, time: '2026-03-03T07:00:00Z', event: { source: '/stations/R', id: 'r' } });
const struck = anEntry({ seq: 3, type: 'heatbook.entry.annulled.v1', time: '2026-03-04T00:00:00Z' });

function anew(seq: number, effects: object[]) {
  const data = { because: [], changes: [{ event: heated.event, effects }] };
  return anEntry({ seq, type: 'heatbook.entry.rejudged.v1', event: null, time: '2026-03-05T00:00:00Z', data });
}

describe('The story of a ledger', () => {
  it('is told as it happened, however the entries come', () => {
    expect(ledgerStory([struck, heated, received]).map(({ entry }) => entry.seq)).toEqual([1, 2, 3]);
  });

  it('tells a struck entry with who strikes it and without its effects, and the striking one as it is', () => {
    const [told, striking] = ledgerStory([heated, struck]);
    expect(told).toMatchObject({ struckBy: 3, effects: [] });
    expect(striking).toMatchObject({ struckBy: null });
  });

  it('tells what was judged last', () => {
    const [told] = ledgerStory([anew(5, []), anew(4, [count]), heated]);
    expect(told).toMatchObject({ anew: { seq: 5 }, effects: [] });
  });

  it('leaves what nobody spoke of again as it was', () => {
    const words = laterWords([struck, anew(4, [])]);
    expect(laterOf(received, words)).toEqual({ struckBy: null, anew: null });
    expect(laterOf(heated, words)).toMatchObject({ struckBy: 3, anew: { seq: 4 } });
  });
});
