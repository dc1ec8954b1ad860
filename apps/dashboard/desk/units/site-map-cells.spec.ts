import type { Budget } from './budget-words.js';
import { type HeatCell, heatCells, NAME_HEIGHT, placeCells } from './site-map-cells.js';

function budget(over: Partial<Budget>): Budget {
  const inputs = { prior: { count: 0, basis: 'declared' }, measured: 0, declared: 0, inferred: 0 } as const;
  const figures = { used: 0, possible: 0, reserved: 0, allowed: 3, remaining: 3, basis: 'declared' } as const;
  return {
    subject: { kind: 'device', device: 'D' },
    limit: 'device-excursions',
    ...figures,
    inputs,
    rule: null,
    ...over,
  };
}

const drawn = (cells: readonly HeatCell[] | undefined): string | undefined =>
  cells?.map(({ kind, over }) => (over ? kind.charAt(0).toUpperCase() : kind.charAt(0))).join('');

describe('The excursions in a body', () => {
  it('are counted, reserved, possible, and room for more', () => {
    expect(drawn(heatCells(budget({ used: 1, reserved: 1, possible: 1, remaining: 1 })))).toBe('crpl');
  });

  it('are bold beyond the limit', () => {
    expect(drawn(heatCells(budget({ used: 4, reserved: 1, remaining: -2 })))).toBe('cccCR');
  });

  it('have no room to show where there is no limit', () => {
    expect(drawn(heatCells(budget({ used: 2, allowed: null, remaining: null })))).toBe('cc');
  });

  it('are told as figures where there are too many', () => {
    expect(heatCells(budget({ used: 20, allowed: 40, remaining: 20 }))).toBeUndefined();
  });
});

describe('Cells', () => {
  const three = heatCells(budget({})) ?? [];

  it('stay inside their body, below its name', () => {
    const placed = placeCells(three, { width: 50, height: 50 }) ?? [];
    expect(placed).toHaveLength(3);
    for (const { x, y, size } of placed) {
      expect(x + size).toBeLessThanOrEqual(50);
      expect(y).toBeGreaterThanOrEqual(NAME_HEIGHT);
      expect(y + size).toBeLessThanOrEqual(50);
    }
  });

  it('are not drawn where they do not fit', () => {
    expect(placeCells(three, { width: 16, height: 20 })).toBeUndefined();
  });
});
