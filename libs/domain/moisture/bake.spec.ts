import fc from 'fast-check';
import { Bake, bakeSufficiency, BakeWanted, requiredBake } from './bake.js';
import { BakedLevel } from './bake-table.js';

/** J-STD-033 Table 4-1 as copied down, hours or days (d); * matches a published table, all else from memory. */
const COPIED = `
1.4 | 2   | 5/3   | 17/11 | 8d/5d
1.4 | 2a  | 7/5   | 23/13 | 9d/7d
1.4 | 3*  | 9/7   | 33/23 | 13d/9d
1.4 | 4*  | 11/7  | 37/23 | 15d/9d
1.4 | 5*  | 12/7  | 41/24 | 17d/10d
1.4 | 5a* | 16/10 | 54/24 | 22d/10d
2.0 | 2   | 18/15 | 63/2d | 25d/20d
2.0 | 2a* | 21/16 | 3d/2d | 29d/22d
2.0 | 3*  | 27/17 | 4d/2d | 37d/23d
2.0 | 4*  | 34/20 | 5d/3d | 47d/28d
2.0 | 5*  | 40/25 | 6d/4d | 57d/35d
2.0 | 5a  | 48/40 | 8d/6d | 79d/56d
4.5 | 2   | 48/48 | 10d/7d | 79d/67d
4.5 | 2a  | 48/48 | 10d/7d | 79d/67d
4.5 | 3   | 48/48 | 10d/8d | 79d/67d
4.5 | 4   | 48/48 | 10d/10d | 79d/67d
4.5 | 5   | 48/48 | 10d/10d | 79d/67d
4.5 | 5a  | 48/48 | 10d/10d | 79d/67d
`;

const ROWS = COPIED.trim()
  .split('\n')
  .map((line) => line.split('|').map((cell) => cell.trim()))
  .map(([mm = '', level = '', ...cells]) => ({
    thicknessMm: Number(mm),
    msl: level.replace('*', '') as BakedLevel,
    published: level.endsWith('*'),
    cells,
  }));

function want(over: Partial<BakeWanted> = {}): BakeWanted {
  const body = { msl: '3', lengthMm: 15, widthMm: 15, thicknessMm: 1.7, bga: true } as const;
  return { ...body, exceededByH: 0, temperatureC: 125, ...over };
}

function neededH(over: Partial<BakeWanted>): number | null {
  const need = requiredBake(want(over));
  return need.kind === 'hours' ? need.neededH : null;
}

function bake(hours: number, over: Partial<Bake> = {}): Bake {
  const endedAt = new Date(Date.UTC(2026, 2, 2) + hours * 3_600_000).toISOString();
  return { of: 'device', temperatureC: 125, startedAt: '2026-03-02T00:00:00Z', endedAt, ...over };
}

describe('required bake (J-STD-033, Table 4-1)', () => {
  it('has three thickness rows of six levels', () => {
    expect(ROWS).toHaveLength(18);
  });

  it.each(ROWS)('gives the cells of up to $thicknessMm mm, level $msl', ({ thicknessMm, msl, published, cells }) => {
    for (const [c, temperatureC] of [125, 90, 40].entries()) {
      const figures = (cells[c] ?? '').split('/').map((text) => parseFloat(text) * (text.endsWith('d') ? 24 : 1));
      expect(neededH({ thicknessMm, msl, temperatureC, exceededByH: 72.01 })).toBe(figures[0]);
      expect(neededH({ thicknessMm, msl, temperatureC, exceededByH: 72 })).toBe(figures[1]);
      const { reference } = requiredBake(want({ thicknessMm, msl, temperatureC }));
      expect(reference).toContain(published ? 'published' : 'from memory');
    }
  });

  it('changes rows just above 1.4 and 2.0 mm, and ends at 4.5 mm', () => {
    expect(neededH({ thicknessMm: 1.41 })).toBe(17);
    expect(neededH({ thicknessMm: 2.01 })).toBe(48);
    expect(requiredBake(want({ thicknessMm: 4.51 })).kind).toBe('outside-table');
  });

  it('takes an excess that nobody knows as more than 72 h', () => {
    expect(requiredBake(want({ exceededByH: null }))).toMatchObject({ neededH: 27, exceeded: 'over-72-h' });
  });

  it('takes the cooler column between two, and says so', () => {
    const board = requiredBake(want({ temperatureC: 105 }));
    expect(board).toMatchObject({ columnC: 90, neededH: 48 });
    expect(board.why[0]).toContain('the cooler 90 C');
    expect(requiredBake(want({ temperatureC: 89 }))).toMatchObject({ columnC: 40 });
    expect(requiredBake(want({ temperatureC: 150 }))).toMatchObject({ columnC: 125, neededH: 17 });
    expect(requiredBake(want({ temperatureC: 39 })).kind).toBe('outside-table');
  });

  it('takes 96 h at 125 C with a barrier, and the thickness row when cooler or without one (from memory)', () => {
    const large = { lengthMm: 23, widthMm: 23 };
    expect(requiredBake(want({ ...large, moistureBarrier: true }))).toMatchObject({
      neededH: 96,
      row: 'BGA above 17 x 17 mm with a barrier',
    });
    expect(neededH({ ...large, moistureBarrier: true, temperatureC: 90 })).toBe(48);
    expect(neededH({ ...large, moistureBarrier: false })).toBe(17);
    expect(neededH(large)).toBe(17);
    expect(requiredBake(want({ moistureBarrier: true }))).toMatchObject({
      neededH: 96,
      row: 'stacked die or a barrier',
    });
  });

  it('asks nothing of level 1 and leaves level 6 to its label', () => {
    expect(requiredBake(want({ msl: '1' })).kind).toBe('none');
    expect(requiredBake(want({ msl: '6' })).kind).toBe('outside-table');
  });

  it('refuses what is no number', () => {
    expect(() => requiredBake(want({ temperatureC: NaN }))).toThrow(RangeError);
    expect(() => requiredBake(want({ thicknessMm: NaN }))).toThrow(RangeError);
    expect(() => requiredBake(want({ exceededByH: -1 }))).toThrow(RangeError);
  });
});

describe('bake sufficiency', () => {
  const need = requiredBake(want());

  it('is met by exactly the hours needed and not by a minute less', () => {
    expect(bakeSufficiency(bake(17), need)).toMatchObject({ sufficient: true, bakedH: 17, neededH: 17 });
    expect(bakeSufficiency(bake(17 - 1 / 60), need)).toMatchObject({ sufficient: false, neededH: 17 });
  });

  it('wants an interruption of more than 15 min to be added (rule published and from memory)', () => {
    expect(bakeSufficiency(bake(17, { interruptedMinutes: 15 }), need).sufficient).toBe(true);
    const short = bakeSufficiency(bake(17, { interruptedMinutes: 16 }), need);
    expect(short.sufficient).toBe(false);
    expect(short.why.join(' ')).toContain('interrupted for 16 min');
    expect(bakeSufficiency(bake(17 + 16 / 60, { interruptedMinutes: 16 }), need).sufficient).toBe(true);
  });

  it('does not accept wet air at 90 C or 40 C, and at 40 C wants it shown', () => {
    const at = (temperatureC: number, relativeHumidityPct?: number): boolean =>
      bakeSufficiency(
        bake(4000, { temperatureC, ...(relativeHumidityPct === undefined ? {} : { relativeHumidityPct }) }),
        requiredBake(want({ temperatureC })),
      ).sufficient;
    expect([at(90, 5), at(90, 5.1), at(90)]).toEqual([true, false, true]);
    expect([at(40, 5), at(40, 6), at(40)]).toEqual([true, false, false]);
    expect(at(125, 30)).toBe(true);
  });

  it('is never met outside the table, and always where none is needed', () => {
    const outside = bakeSufficiency(bake(500), requiredBake(want({ thicknessMm: 5 })));
    expect(outside).toMatchObject({ sufficient: false, neededH: null });
    expect(bakeSufficiency(bake(0), requiredBake(want({ msl: '1' })))).toMatchObject({ sufficient: true, neededH: 0 });
  });

  it('counts no negative hours', () => {
    expect(bakeSufficiency(bake(-3), need).bakedH).toBe(0);
    expect(bakeSufficiency(bake(1, { interruptedMinutes: 600 }), need).bakedH).toBe(0);
    expect(() => bakeSufficiency(bake(1, { interruptedMinutes: NaN }), need)).toThrow(RangeError);
  });

  it('is never lost by baking longer', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
        fc.integer({ min: 0, max: 600 }),
        (hours, more, interruptedMinutes) => {
          const first = bakeSufficiency(bake(hours, { interruptedMinutes }), need);
          const longer = bakeSufficiency(bake(hours + more, { interruptedMinutes }), need);
          expect(Number.isFinite(first.bakedH)).toBe(true);
          expect(longer.sufficient || !first.sufficient).toBe(true);
        },
      ),
    );
  });
});
