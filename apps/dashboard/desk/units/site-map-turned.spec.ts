import type { PlacedSite } from './site-map-geometry.js';
import { turnedToFit } from './site-map-turned.js';

function site(refdes: string, xMm: number, over: Partial<PlacedSite> = {}): PlacedSite {
  return { refdes, side: 'top', xMm, yMm: 40, lengthMm: 14, widthMm: 8, neighbours: [], ...over };
}

const lengths = (sites: readonly PlacedSite[]) => turnedToFit(sites).map(({ lengthMm }) => lengthMm);

describe('A body', () => {
  const big = (neighbours: PlacedSite['neighbours']) => site('U1', 50, { lengthMm: 23, widthMm: 23, neighbours });

  it('is turned where only that fits the gap to its neighbour', () => {
    expect(lengths([big([{ refdes: 'U2', gapMm: 3.1 }]), site('U2', 68.6)])).toEqual([23, 8]);
  });

  it('stays as it lies where that fits', () => {
    expect(lengths([big([{ refdes: 'U2', gapMm: 0.1 }]), site('U2', 68.6)])).toEqual([23, 14]);
    expect(lengths([big([]), site('U2', 68.6)])).toEqual([23, 14]);
  });

  it('is turned with others, each by the gaps it is in', () => {
    const sites = [
      big([{ refdes: 'U2', gapMm: 3.1 }]),
      site('U2', 68.6, { neighbours: [{ refdes: 'U3', gapMm: 2.4 }] }),
      site('U3', 79),
    ];
    expect(lengths(sites)).toEqual([23, 8, 8]);
  });

  it('is not turned by a gap through the board', () => {
    expect(lengths([big([{ refdes: 'U2', gapMm: 1.6 }]), site('U2', 50, { side: 'bottom' })])).toEqual([23, 14]);
  });
});
