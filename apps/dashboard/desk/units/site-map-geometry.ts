/** A site as the setup places it: its middle, in mm, y upward, seen from the top. */
export interface PlacedSite {
  readonly refdes: string;
  readonly side: 'top' | 'bottom';
  readonly xMm: number;
  readonly yMm: number;
  /** Of the body, along x. */
  readonly lengthMm: number;
  /** Of the body, along y. */
  readonly widthMm: number;
  readonly neighbours: readonly { readonly refdes: string; readonly gapMm: number }[];
}

/** A rectangle on the drawing, in its units, y downward. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface DrawnSite extends Box {
  readonly refdes: string;
}

export interface DrawnSide {
  readonly side: 'top' | 'bottom';
  /** The large ones first, so that a small one is never hidden under a large one. */
  readonly sites: readonly DrawnSite[];
}

export interface SiteDrawing {
  readonly width: number;
  readonly height: number;
  /** Units of the drawing for a mm. */
  readonly scale: number;
  readonly sides: readonly DrawnSide[];
}

/** Width of the drawing of a side, in units; letters are made for it. */
const DRAWING_WIDTH = 320;
/** A side is drawn no taller than so many times its width. */
const MOST_TALL = 1.3;
/** Room around the outermost bodies, mm. */
const MARGIN_MM = 4;

/**
 * The sites to scale, a drawing for each side that has any: both cover the same part of the board, the bottom mirrored left to
 * right, as one sees it with the board turned over.
 */
export function drawSites(sites: readonly PlacedSite[]): SiteDrawing {
  if (sites.length === 0) return { width: 0, height: 0, scale: 1, sides: [] };
  const left = Math.min(...sites.map(({ xMm, lengthMm }) => xMm - lengthMm / 2)) - MARGIN_MM;
  const right = Math.max(...sites.map(({ xMm, lengthMm }) => xMm + lengthMm / 2)) + MARGIN_MM;
  const low = Math.min(...sites.map(({ yMm, widthMm }) => yMm - widthMm / 2)) - MARGIN_MM;
  const high = Math.max(...sites.map(({ yMm, widthMm }) => yMm + widthMm / 2)) + MARGIN_MM;
  const scale = Math.min(DRAWING_WIDTH / (right - left), (MOST_TALL * DRAWING_WIDTH) / (high - low));
  const draw = ({ refdes, side, xMm, yMm, lengthMm, widthMm }: PlacedSite): DrawnSite => {
    const fromLeft = side === 'top' ? xMm - lengthMm / 2 - left : right - (xMm + lengthMm / 2);
    const fromTop = high - (yMm + widthMm / 2);
    return { refdes, x: fromLeft * scale, y: fromTop * scale, width: lengthMm * scale, height: widthMm * scale };
  };
  const sides = (['top', 'bottom'] as const).map((side): DrawnSide => {
    const drawn = sites.filter((site) => site.side === side).map(draw);
    return { side, sites: drawn.toSorted((one, other) => other.width * other.height - one.width * one.height) };
  });
  return {
    width: (right - left) * scale,
    height: (high - low) * scale,
    scale,
    sides: sides.filter((side) => side.sites.length > 0),
  };
}

export interface Gap {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
}

/** The shortest line between two bodies; where they face each other, at the middle of what faces. */
export function gapBetween(one: Box, other: Box): Gap {
  const [x1, x2] = nearest([one.x, one.x + one.width], [other.x, other.x + other.width]);
  const [y1, y2] = nearest([one.y, one.y + one.height], [other.y, other.y + other.height]);
  return { x1, y1, x2, y2 };
}

type Span = readonly [from: number, to: number];

function nearest(one: Span, other: Span): readonly [number, number] {
  if (one[1] <= other[0]) return [one[1], other[0]];
  if (other[1] <= one[0]) return [one[0], other[1]];
  const middle = (Math.max(one[0], other[0]) + Math.min(one[1], other[1])) / 2;
  return [middle, middle];
}

/** A body of which no part says the size: what its pads take, in mm. */
export function sizeFromPads({ pads, ballPitchMm }: { readonly pads: number; readonly ballPitchMm: number }): number {
  return Math.ceil(Math.sqrt(pads)) * ballPitchMm;
}
