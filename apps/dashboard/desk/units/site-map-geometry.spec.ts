import { drawSites, gapBetween, type PlacedSite, sizeFromPads } from './site-map-geometry.js';

function site(refdes: string, xMm: number, yMm: number, over: Partial<PlacedSite> = {}): PlacedSite {
  return { refdes, side: 'top', xMm, yMm, lengthMm: 10, widthMm: 10, neighbours: [], ...over };
}

describe('The map of a board', () => {
  it('is to scale: distances and bodies alike', () => {
    const { sides, scale } = drawSites([site('U1', 0, 0, { lengthMm: 20 }), site('U2', 40, 0)]);
    const [u1, u2] = sides[0]?.sites ?? [];
    expect(u1?.width).toBeCloseTo(20 * scale);
    expect((u2?.x ?? 0) - (u1?.x ?? 0)).toBeCloseTo((35 - -10) * scale);
  });

  it('has y upward', () => {
    const { sides } = drawSites([site('LOW', 0, 0), site('HIGH', 0, 30)]);
    const y = new Map(sides[0]?.sites.map((drawn) => [drawn.refdes, drawn.y]));
    expect(y.get('HIGH')).toBeLessThan(y.get('LOW') ?? 0);
  });

  it('shows the bottom as one sees it with the board turned over, over the same part of the board', () => {
    const { sides, width } = drawSites([site('U1', 0, 0), site('U2', 40, 0), site('U11', 0, 0, { side: 'bottom' })]);
    expect(sides.map(({ side }) => side)).toEqual(['top', 'bottom']);
    const top = sides[0]?.sites.find(({ refdes }) => refdes === 'U1');
    const bottom = sides[1]?.sites[0];
    expect(bottom?.x).toBeCloseTo(width - (top?.x ?? 0) - (top?.width ?? 0));
    expect(bottom?.y).toBeCloseTo(top?.y ?? -1);
  });

  it('draws small bodies over large ones', () => {
    const { sides } = drawSites([site('SMALL', 0, 0, { lengthMm: 4, widthMm: 4 }), site('LARGE', 0, 0)]);
    expect(sides[0]?.sites.map(({ refdes }) => refdes)).toEqual(['LARGE', 'SMALL']);
  });

  it('keeps a tall board from running off the page', () => {
    const { width, height } = drawSites([site('U1', 0, 0), site('U2', 0, 400)]);
    expect(height).toBeLessThanOrEqual(1.3 * 320 + 1e-9);
    expect(width).toBeLessThan(320);
  });

  it('is empty for a board without sites', () => {
    expect(drawSites([])).toMatchObject({ sides: [] });
  });
});

describe('The gap between two bodies', () => {
  const box = (x: number, y: number) => ({ x, y, width: 10, height: 10 });

  it('is drawn at the middle of what faces', () => {
    expect(gapBetween(box(0, 0), box(14, 4))).toEqual({ x1: 10, y1: 7, x2: 14, y2: 7 });
    expect(gapBetween(box(14, 4), box(0, 0))).toEqual({ x1: 14, y1: 7, x2: 10, y2: 7 });
  });

  it('is drawn from corner to corner where they do not face', () => {
    expect(gapBetween(box(0, 0), box(14, 13))).toEqual({ x1: 10, y1: 10, x2: 14, y2: 13 });
  });

  it('has no length where they overlap', () => {
    const { x1, x2, y1, y2 } = gapBetween(box(0, 0), box(5, 5));
    expect([x1, y1]).toEqual([x2, y2]);
  });
});

it('A body whose part is not known is as large as its pads', () => {
  expect(sizeFromPads({ pads: 81, ballPitchMm: 0.5 })).toBe(4.5);
});
