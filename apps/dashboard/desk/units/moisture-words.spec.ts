import type { Schemas } from '../api/client.js';
import { clockInWords, filledOf, startInWords, usedInWords } from './moisture-words.js';

type Clock = Schemas['DeviceMoisture'];

const NOW = Date.parse('2026-03-03T12:00:00Z');

function clock(over: Partial<Clock>): Clock {
  const figures = { usedShare: 0.5, usedAtLeast: 0.5, floorLifeH: 168, remainingH: 84, expiresAt: null };
  const rest = { basis: [], shortBakes: [], boardDry: false, why: 'said', remedy: null };
  return { state: 'running', ...figures, start: { kind: 'sealed', at: null }, ...rest, ...over };
}

describe('A moisture clock', () => {
  it('counts down to when it runs out', () => {
    const words = (expiresAt: string) => clockInWords(clock({ expiresAt }), NOW);
    expect(words('2026-03-06T16:00:00Z')).toEqual({ words: '3 d 4 h left', tone: 'plain' });
    expect(words('2026-03-03T14:05:00Z')).toEqual({ words: '2 h 5 min left', tone: 'caution' });
  });

  it('has run out once its time is over, though the book said running when it was asked', () => {
    const late = clockInWords(clock({ expiresAt: '2026-03-03T11:30:00Z' }), NOW);
    expect(late).toEqual({ words: 'ran out 30 min ago', tone: 'stop' });
    expect(clockInWords(clock({ state: 'expired', expiresAt: '2026-03-01T12:00:00Z' }), NOW).words).toBe(
      'ran out 2 d 0 h ago',
    );
    expect(clockInWords(clock({ state: 'expired' }), NOW).words).toBe('ran out');
  });

  it('says what is not known, dry or standing still', () => {
    expect(clockInWords(clock({ state: 'unknown', remainingH: null }), NOW)).toEqual({
      words: 'not known',
      tone: 'caution',
    });
    expect(clockInWords(clock({ state: 'dry' }), NOW).tone).toBe('good');
    expect(clockInWords(clock({ state: 'paused', remainingH: 84 }), NOW).words).toBe('standing still, 3 d 12 h left');
  });

  it('says what is spent for certain and what at worst', () => {
    expect(usedInWords(clock({}))).toBe('50 %, of 168 h');
    expect(usedInWords(clock({ usedShare: 0.75 }))).toBe('50 % for certain, 75 % at worst, of 168 h');
    expect(usedInWords(clock({ usedShare: 29.765, usedAtLeast: 29.765 }))).toBe('29.8 times over, of 168 h');
    const unknown = { kind: 'unknown', at: null } as const;
    expect(usedInWords(clock({ start: unknown, usedShare: 0.75 }))).toBe('at least 50 %, of 168 h');
    expect(usedInWords(clock({ floorLifeH: null }))).toContain('no clock');
    expect(startInWords(clock({ start: { kind: 'unknown', at: null } }))).toBe('not known');
  });

  it('fills its bar no further than full', () => {
    expect(filledOf(clock({ usedShare: 0.75 }))).toEqual({ sure: 0.5, atWorst: 0.25 });
    expect(filledOf(clock({ usedShare: 30, usedAtLeast: 29 }))).toEqual({ sure: 1, atWorst: 0 });
  });
});
