import { dateAndTime } from '../kit/time-words.js';
import { evidenceInWords } from './hold-evidence-words.js';

describe('The words of evidence', () => {
  it('have moments as they are here', () => {
    const at = '2026-02-09T08:00:00Z';
    expect(evidenceInWords(`sealed dry ${at}.`)).toBe(`sealed dry ${dateAndTime(at)}.`);
  });

  it('have types of events as what they tell', () => {
    expect(evidenceInWords('heatbook.site.cleaned.v1 could not be applied')).toBe(
      '“Site cleaned” could not be applied',
    );
  });
});
