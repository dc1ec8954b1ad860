import { allowedWords, limitKind, scopeWords } from './limit-words.js';

describe('A limit in words', () => {
  it('has a figure with its unit, methods by name, or a row for each pitch', () => {
    expect(allowedWords(3, 'excursions')).toBe('3 excursions');
    expect(allowedWords(['braid', 'vacuum'], 'dressing methods')).toBe('Braid with blade tip; Vacuum nozzle');
    const rows = [
      { pitchMm: 0.5, max: 0.08 },
      { pitchMm: 0.8, max: 0.12 },
    ];
    expect(allowedWords(rows, 'mm')).toBe('0.08 mm to pitch 0.5 mm; 0.12 mm to pitch 0.8 mm');
    expect(allowedWords(10, 'um')).toBe('10 µm');
    expect(allowedWords(5, 'C below solidus')).toBe('5 °C below solidus');
    expect(allowedWords(null, 'mm')).toBe('nothing set');
  });

  it('says whom it is for', () => {
    expect(scopeWords({})).toBe('the whole house');
    expect(scopeWords({ customer: 'Thimblewick', refdes: 'U7' })).toBe('customer Thimblewick, site U7');
  });
});

it('A kind is told by its name', () => {
  expect(limitKind('floor-life')).toBe('floor-life');
  expect(limitKind('floor')).toBeUndefined();
  expect(limitKind(null)).toBeUndefined();
});
