import type { PlacedSite } from './site-map-geometry.js';

/** A turn must bring the gaps nearer to what the setup says by that much, mm; less is rounding. */
const WORTH_MM = 0.05;
/** A turn may make another one right; boards settle at once or in a second round. */
const ROUNDS = 3;

/**
 * The sites with their bodies turned by a quarter where that fits the gaps to their neighbours better: the setup gives length
 * and width of a part, and not which way it lies.
 */
export function turnedToFit<Site extends PlacedSite>(sites: readonly Site[]): readonly Site[] {
  const now = new Map(sites.map((site) => [site.refdes, site]));
  const gaps = gapsBySite(sites);
  for (let round = 0; round < ROUNDS; round += 1) {
    for (const { refdes, lengthMm, widthMm } of sites) {
      const as = now.get(refdes);
      if (as === undefined || lengthMm === widthMm) continue;
      const turned = { ...as, lengthMm: as.widthMm, widthMm: as.lengthMm };
      const known = gaps.get(refdes) ?? [];
      if (misfitMm(turned, known, now) < misfitMm(as, known, now) - WORTH_MM) now.set(refdes, turned);
    }
  }
  return sites.map((site) => now.get(site.refdes) ?? site);
}

interface KnownGap {
  readonly refdes: string;
  readonly gapMm: number;
}

/** The gaps that are known of each site: those that it lists, and those of sites that list it. */
function gapsBySite(sites: readonly PlacedSite[]): ReadonlyMap<string, readonly KnownGap[]> {
  const gaps = new Map<string, KnownGap[]>(sites.map(({ refdes }) => [refdes, []]));
  for (const { refdes, neighbours } of sites) {
    for (const neighbour of neighbours) {
      gaps.get(refdes)?.push(neighbour);
      gaps.get(neighbour.refdes)?.push({ refdes, gapMm: neighbour.gapMm });
    }
  }
  return gaps;
}

/** How far the gaps on the drawing are from the known ones, mm in all. A gap through the board says nothing here. */
function misfitMm(site: PlacedSite, known: readonly KnownGap[], sites: ReadonlyMap<string, PlacedSite>): number {
  return known.reduce((sum, { refdes, gapMm }) => {
    const other = sites.get(refdes);
    return other?.side === site.side ? sum + Math.abs(distanceMm(site, other) - gapMm) : sum;
  }, 0);
}

function distanceMm(one: PlacedSite, other: PlacedSite): number {
  const across = Math.abs(one.xMm - other.xMm) - (one.lengthMm + other.lengthMm) / 2;
  const up = Math.abs(one.yMm - other.yMm) - (one.widthMm + other.widthMm) / 2;
  return Math.hypot(Math.max(0, across), Math.max(0, up));
}
