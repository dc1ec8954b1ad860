import { tallyCells, tallyInWords } from './tally-cells.js';

const drawn = (figures: Parameters<typeof tallyCells>[0]): string =>
  tallyCells(figures)
    .map(({ kind, over, edge }) => `${edge ? '|' : ''}${over ? kind.charAt(0).toUpperCase() : kind.charAt(0)}`)
    .join('');

describe('A tally', () => {
  it('has a notch for each that is allowed: used, reserved, left', () => {
    expect(drawn({ used: 1, reserved: 1, allowed: 3 })).toBe('url');
    expect(drawn({ used: 0, reserved: 0, allowed: 2 })).toBe('ll');
  });

  it('shows what is over beyond a line', () => {
    expect(drawn({ used: 4, reserved: 0, allowed: 3 })).toBe('uuu|U');
    expect(drawn({ used: 3, reserved: 2, allowed: 3 })).toBe('uuu|RR');
    expect(drawn({ used: 1, reserved: 0, allowed: 0 })).toBe('|U');
  });

  it('lets a notch stand for several where there would be too many', () => {
    const cells = tallyCells({ used: 32, reserved: 0, allowed: 64 });
    expect(cells).toHaveLength(16);
    expect(cells.filter(({ kind }) => kind === 'used')).toHaveLength(8);
  });

  it('is said in words that add up', () => {
    expect(tallyInWords({ used: 1, reserved: 1, possible: 2, allowed: 3 })).toBe(
      '1 used, 1 reserved, 2 possible, 1 left of 3',
    );
    expect(tallyInWords({ used: 4, reserved: 0, allowed: 3 })).toBe('4 used, 1 over the 3 allowed');
  });
});
