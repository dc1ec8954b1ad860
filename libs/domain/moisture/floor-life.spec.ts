import fc from 'fast-check';
import { airColumns, baseFloorLife, bodyGroup, deratedFloorLife } from './floor-life.js';
import { cellProvenance, DeratedLevel, HUMIDITY_COLUMNS_PCT } from './floor-life-table.js';
import { MoisturePart } from './moisture-part.js';

/** J-STD-033 Table 7-1, days, as copied down: level | 35 C | 30 C | 25 C | 20 C, each 5,10,20..90 %RH. A: F; B, C: M. */
const COPIED = {
  A: `
    2a | i,i,94,44,32,26,16,7,5,4 | i,i,124,60,41,33,28,10,7,6 | i,i,167,78,53,42,36,14,10,8 | i,i,231,103,69,57,47,19,13,10
    3 | i,i,8,7,6,6,6,4,3,3 | i,i,10,9,8,7,7,5,4,4 | i,i,13,11,10,9,9,7,6,5 | i,i,17,14,13,12,12,10,8,7
    4 | i,3,3,3,2,2,2,2,1,1 | i,5,4,4,4,3,3,3,2,2 | i,6,5,5,5,5,4,3,3,3 | i,8,7,7,7,7,6,5,4,4
    5 | i,2,2,2,2,1,1,1,1,1 | i,4,3,3,2,2,2,2,1,1 | i,5,5,4,4,3,3,2,2,2 | i,7,7,6,5,5,4,3,3,3
    5a | i,1,1,1,1,1,1,1,1,1 | i,2,1,1,1,1,1,1,1,1 | i,3,2,2,2,2,2,1,1,1 | i,5,4,3,3,3,2,2,2,2
  `,
  B: `
    2a | i,i,i,i,58,30,22,3,2,1 | i,i,i,i,86,39,28,4,3,2 | i,i,i,i,148,51,37,6,4,3 | i,i,i,i,i,69,49,8,5,4
    3 | i,i,12,9,7,6,5,2,2,1 | i,i,19,12,9,8,7,3,2,2 | i,i,25,15,12,10,9,5,3,3 | i,i,32,19,15,13,12,7,5,4
    4 | i,5,4,3,3,2,2,1,1,1 | i,7,5,4,4,3,3,2,2,1 | i,9,7,5,5,4,4,3,2,2 | i,11,9,7,6,6,5,4,3,3
    5 | i,3,2,2,2,2,1,1,1,1 | i,4,3,3,2,2,2,1,1,1 | i,5,4,3,3,3,3,2,1,1 | i,6,5,5,4,4,4,3,3,2
    5a | i,1,1,1,1,1,1,1,.5,.5 | i,2,1,1,1,1,1,1,.5,.5 | i,2,2,2,2,2,2,1,1,1 | i,3,2,2,2,2,2,2,2,1
  `,
  C: `
    2a | i,i,i,i,i,i,17,1,.5,.5 | i,i,i,i,i,i,28,1,1,1 | i,i,i,i,i,i,i,2,1,1 | i,i,i,i,i,i,i,2,2,1
    3 | i,i,i,i,i,8,5,1,.5,.5 | i,i,i,i,i,11,7,1,1,1 | i,i,i,i,i,14,10,2,1,1 | i,i,i,i,i,20,13,2,2,1
    4 | i,i,i,7,4,3,2,1,.5,.5 | i,i,i,9,5,4,3,1,1,1 | i,i,i,12,7,5,4,2,1,1 | i,i,i,17,9,7,6,2,2,1
    5 | i,i,7,3,2,2,1,1,.5,.5 | i,i,13,5,3,2,2,1,1,1 | i,i,18,6,4,3,3,2,1,1 | i,i,26,8,6,5,4,2,2,1
    5a | i,7,2,1,1,1,1,1,.5,.5 | i,10,3,2,1,1,1,1,1,.5 | i,13,5,3,2,2,2,1,1,1 | i,18,6,4,3,2,2,2,2,1
  `,
};
const BODIES = {
  A: { thicknessMm: 1.7, bga: true },
  B: { thicknessMm: 2.5, bga: false },
  C: { thicknessMm: 0.9, bga: true },
} as const;

function part(msl: MoisturePart['msl'], group: keyof typeof BODIES = 'A'): MoisturePart {
  return { msl, lengthMm: 15, widthMm: 15, ...BODIES[group] };
}

const CELLS = (['A', 'B', 'C'] as const).flatMap((group) =>
  COPIED[group]
    .trim()
    .split('\n')
    .flatMap((line) => {
      const [msl, ...columns] = line.split('|').map((text) => text.trim());
      return columns.flatMap((column, c) =>
        column.split(',').map((days, h) => ({
          group,
          msl: msl as DeratedLevel,
          columnC: ([35, 30, 25, 20] as const)[c] ?? 20,
          columnPct: HUMIDITY_COLUMNS_PCT[h] ?? 5,
          days,
        })),
      );
    }),
);

describe('derated floor life (J-STD-033, Table 7-1; group A published, B and C from memory)', () => {
  it('has all 3 x 5 x 4 x 10 cells, each once', () => {
    const keys = new Set(CELLS.map((c) => `${c.group} ${c.msl} ${c.columnC} ${c.columnPct}`));
    expect([CELLS.length, keys.size]).toEqual([600, 600]);
  });

  it.each(['A', 'B', 'C'] as const)('gives every cell of group %s with its origin', (group) => {
    for (const cell of CELLS.filter((c) => c.group === group)) {
      const found = deratedFloorLife(part(cell.msl, group), cell.columnC, cell.columnPct);
      const wanted = cell.days === 'i' ? { kind: 'unlimited' } : { kind: 'hours', lifeH: Number(cell.days) * 24 };
      expect({ ...cell, life: found.life }).toEqual({ ...cell, life: wanted });
      const published = cellProvenance(group, cell.msl, cell.columnC, cell.columnPct) === 'F';
      expect(found.reference).toContain(published ? 'published' : 'from memory');
      expect(found.outOfRange).toBe(false);
    }
  });

  it('marks group A and the two points found of group C as published, all else as from memory', () => {
    const published = CELLS.filter((c) => cellProvenance(c.group, c.msl, c.columnC, c.columnPct) === 'F');
    expect(published.filter((c) => c.group === 'A')).toHaveLength(200);
    expect(published.filter((c) => c.group === 'B')).toHaveLength(0);
    expect(published.filter((c) => c.group === 'C').map((c) => [c.msl, c.columnC, c.columnPct, c.days])).toEqual([
      ['3', 30, 60, '7'],
      ['3', 30, 70, '1'],
    ]);
  });

  it('agrees with the base floor life at 30 C / 60 %RH in every group', () => {
    for (const group of ['A', 'B', 'C'] as const) {
      for (const msl of ['2a', '3', '4', '5', '5a'] as const) {
        expect(deratedFloorLife(part(msl, group), 30, 60).life).toEqual(baseFloorLife(msl));
      }
    }
  });

  it('takes the next worse column between two, and the last one beyond the table with a note', () => {
    expect(airColumns(20.1, 50.1)).toEqual({ columnC: 25, columnPct: 60, outOfRange: false });
    expect(airColumns(-5, 0)).toEqual({ columnC: 20, columnPct: 5, outOfRange: false });
    const hot = deratedFloorLife(part('3'), 36, 60);
    expect(hot).toMatchObject({ columnC: 35, outOfRange: true, life: { lifeH: 144 } });
    expect(hot.notes[0]).toContain('outside the table');
    expect(airColumns(30, 91)).toEqual({ columnC: 30, columnPct: 90, outOfRange: true });
  });

  it('refuses air that is no number', () => {
    expect(() => airColumns(NaN, 50)).toThrow(RangeError);
    expect(() => airColumns(25, Infinity)).toThrow(RangeError);
    expect(() => airColumns(25, -1)).toThrow(RangeError);
  });

  it('never lives longer in hotter or wetter air, at any level and body', () => {
    const body = fc.record({ thicknessMm: fc.double({ min: 0.3, max: 5, noNaN: true }), bga: fc.boolean() });
    const msl = fc.constantFrom('1' as const, '2' as const, '2a' as const, '3' as const, '4' as const, '5a' as const);
    const air = fc.record({
      c: fc.double({ min: -10, max: 60, noNaN: true }),
      pct: fc.double({ min: 0, max: 100, noNaN: true }),
      moreC: fc.double({ min: 0, max: 30, noNaN: true }),
      morePct: fc.double({ min: 0, max: 50, noNaN: true }),
    });
    const lifeH = (p: MoisturePart, c: number, pct: number): number => {
      const { life } = deratedFloorLife(p, c, pct);
      return life.kind === 'hours' ? life.lifeH : Number.MAX_VALUE;
    };
    fc.assert(
      fc.property(body, msl, air, (b, level, { c, pct, moreC, morePct }) => {
        const p = { msl: level, lengthMm: 15, widthMm: 15, ...b };
        expect(lifeH(p, c + moreC, pct + morePct)).toBeLessThanOrEqual(lifeH(p, c, pct));
      }),
      { numRuns: 500 },
    );
  });
});

describe('base floor life (J-STD-033, published)', () => {
  it.each([
    ['2', 8760],
    ['2a', 672],
    ['3', 168],
    ['4', 72],
    ['5', 48],
    ['5a', 24],
  ] as const)('gives level %s %d h', (msl, lifeH) => {
    expect(baseFloorLife(msl)).toEqual({ kind: 'hours', lifeH });
  });

  it('has no end for level 1 and is on the label for level 6', () => {
    expect(baseFloorLife('1')).toEqual({ kind: 'unlimited' });
    expect(baseFloorLife('6')).toEqual({ kind: 'by-label' });
    expect(deratedFloorLife(part('1'), 30, 90).notes).toEqual(['level 1 is stated to 30 C / 85 %RH']);
  });

  it('gives level 2 its year up to 30 C / 60 %RH, and beyond it the safe bound of level 2a', () => {
    expect(deratedFloorLife(part('2'), 22, 45).life).toEqual({ kind: 'hours', lifeH: 8760 });
    const wet = deratedFloorLife(part('2'), 30, 70);
    expect(wet.life).toEqual({ kind: 'hours', lifeH: 240 });
    expect(wet.notes[0]).toContain('safe bound');
    expect(deratedFloorLife(part('2'), 35, 10).life).toEqual({ kind: 'unlimited' });
  });
});

describe('body group', () => {
  it.each([
    [3.1, false, 'A'],
    [3.09, false, 'B'],
    [2.1, false, 'B'],
    [2.09, false, 'C'],
    [1, true, 'A'],
    [0.99, true, 'C'],
    [3.5, true, 'A'],
  ] as const)('of %d mm, BGA %s: %s', (thicknessMm, bga, group) => {
    expect(bodyGroup({ thicknessMm, bga })).toBe(group);
  });
});
