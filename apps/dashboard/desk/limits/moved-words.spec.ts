import { figuresInWords } from './moved-words.js';
import type { Moved } from './what-if-sums.js';

const side = (used: number | null, allowed: unknown): Moved['now'] => ({ used, allowed, breach: 'none', limit: null });

describe('What moved, in words', () => {
  it('says what it has, and both figures', () => {
    expect(figuresInWords({ now: side(2, 3), then: side(2, 1) }, 'excursions')).toBe(
      '2 excursions; allowed 3 now, 1 then',
    );
    expect(figuresInWords({ now: side(9.87654, 10), then: side(null, 12) }, 'um')).toBe(
      '9.88 µm; allowed 10 now, 12 then',
    );
  });

  it('says where either is not known, or not set', () => {
    expect(figuresInWords({ now: side(null, null), then: side(null, 0.1) }, 'wt%')).toBe(
      'not known what it has; allowed nothing set now, 0.1 wt% then',
    );
  });
});
