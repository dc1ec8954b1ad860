import { type Budget, consequenceOf, inputsInWords, leftInWords, limitPageOf } from './budget-words.js';

const RULE = {
  name: 'device-excursions',
  revision: 2,
  source: 'a table',
  action: 'hold',
  countPossible: false,
} as const;

function budget(over: Partial<Budget> = {}): Budget {
  return {
    subject: { kind: 'device', device: 'D-1' },
    limit: 'device-excursions',
    ...{ used: 1, possible: 0, reserved: 0, allowed: 3, remaining: 2, basis: 'assumed' },
    inputs: { prior: { count: 1, basis: 'assumed' }, measured: 0, declared: 0, inferred: 0 },
    rule: RULE,
    ...over,
  };
}

const UNKNOWN = { prior: { count: 0, basis: 'unknown' }, measured: 0, declared: 0, inferred: 0 } as const;

describe('What is left of a budget', () => {
  it('is a figure and what it is of', () => {
    expect(leftInWords(budget())).toEqual({ figure: '2', of: 'of 3 left', tone: 'plain', doubt: null });
    expect(leftInWords(budget({ remaining: 0 }))).toMatchObject({ figure: '0', tone: 'caution' });
  });

  it('says how far over the limit it is', () => {
    const over = leftInWords(budget({ used: 5, remaining: -2 }));
    expect(over).toMatchObject({ figure: '2', of: 'over the 3 allowed', tone: 'stop' });
  });

  it('says what is used where there is no limit', () => {
    const free = leftInWords(budget({ allowed: null, remaining: null, rule: null, used: 4 }));
    expect(free).toMatchObject({ figure: '4', of: 'used, no limit' });
  });

  it('is in doubt where history is not known or an excursion may have happened', () => {
    expect(leftInWords(budget({ inputs: UNKNOWN })).doubt).toBe('before it came: not known');
    expect(leftInWords(budget({ possible: 2 })).doubt).toBe('2 more possible');
    expect(leftInWords(budget({ possible: 2, rule: { ...RULE, countPossible: true } })).doubt).toBeNull();
  });
});

describe('A tally', () => {
  it('names each ground it stands on', () => {
    const inputs = { prior: { count: 1, basis: 'declared' }, measured: 2, declared: 1, inferred: 3 } as const;
    expect(inputsInWords(budget({ inputs, possible: 1, reserved: 1 }))).toEqual([
      '1 before it came, declared',
      '2 measured',
      '1 as the station told it',
      '3 inferred from the step',
      '1 possible, not counted',
      '1 reserved by clearances',
    ]);
  });

  it('counts nothing for a history that is not known, and says so', () => {
    expect(inputsInWords(budget({ inputs: UNKNOWN }))).toEqual(['before it came: not known, nothing counted for it']);
  });
});

describe('A limit', () => {
  it('says what happens beyond it, and that a concession loosens it', () => {
    expect(consequenceOf(budget())).toBe('Beyond it the subject is held.');
    expect(consequenceOf(budget({ rule: { ...RULE, action: 'warn' } }))).toContain('warning');
    expect(consequenceOf(budget({ rule: { ...RULE, concession: 'c-1' } }))).toContain('concession');
    expect(consequenceOf(budget({ rule: null }))).toContain('stops nothing');
  });

  it("has a page, unless it is the maker's figure for a part", () => {
    expect(limitPageOf(budget())).toBe('device-excursions');
    expect(limitPageOf(budget({ rule: { ...RULE, name: 'part P-1' } }))).toBeNull();
  });
});
