import type { Budget } from './budget-words.js';

/** One excursion, or room for one, as it is drawn in a body. */
export interface HeatCell {
  readonly kind: 'counted' | 'reserved' | 'possible' | 'left';
  /** Beyond what is allowed. */
  readonly over: boolean;
}

/** More than these are told as figures only. */
const MOST_CELLS = 24;

/** The excursions of a budget: counted, then reserved, then possible ones, then room for more. Undefined: too many to draw. */
export function heatCells(budget: Budget): readonly HeatCell[] | undefined {
  const { used, reserved, possible, allowed, remaining } = budget;
  const spent = used + reserved;
  const left = Math.max(0, remaining ?? 0);
  if (spent + possible + left > MOST_CELLS) return undefined;
  const isOver = (nth: number) => allowed !== null && nth >= allowed;
  return [
    ...cells(used, (n) => ({ kind: 'counted', over: isOver(n) })),
    ...cells(reserved, (n) => ({ kind: 'reserved', over: isOver(used + n) })),
    ...cells(possible, () => ({ kind: 'possible', over: false })),
    ...cells(left, () => ({ kind: 'left', over: false })),
  ];
}

function cells(count: number, cell: (n: number) => HeatCell): readonly HeatCell[] {
  return Array.from({ length: count }, (_, n) => cell(n));
}

export interface PlacedCell extends HeatCell {
  readonly x: number;
  readonly y: number;
  readonly size: number;
}

/** Sides of a cell, in units of the drawing, the larger first. */
const SIZES = [14, 11, 8, 6];
const GAP = 2.5;
/** Room at the top of a body for its name. */
export const NAME_HEIGHT = 20;
const PADDING = 5;

/** Places cells below the name of a body in rows, as large as they fit; undefined where they do not. */
export function placeCells(
  drawn: readonly HeatCell[],
  { width, height }: { readonly width: number; readonly height: number },
): readonly PlacedCell[] | undefined {
  for (const size of SIZES) {
    const across = Math.floor((width - 2 * PADDING + GAP) / (size + GAP));
    const down = Math.floor((height - NAME_HEIGHT - PADDING + GAP) / (size + GAP));
    if (across < 1 || across * down < drawn.length) continue;
    return drawn.map((cell, n) => ({
      ...cell,
      size,
      x: PADDING + (n % across) * (size + GAP),
      y: NAME_HEIGHT + Math.floor(n / across) * (size + GAP),
    }));
  }
  return undefined;
}
