/** What has been spent of what is allowed. */
export interface TallyFigures {
  readonly used: number;
  readonly reserved: number;
  /** Might have happened; said, not counted. */
  readonly possible?: number;
  readonly allowed: number;
}

export interface TallyCell {
  readonly kind: 'used' | 'reserved' | 'left';
  /** Beyond what is allowed. */
  readonly over: boolean;
  /** The first that is over. */
  readonly edge: boolean;
}

/** More cells than these cannot be told apart; then each stands for several. */
const MOST_CELLS = 16;

/** The notches of a tally, from the first: what is used, then what is reserved, then what is left. */
export function tallyCells({ used, reserved, allowed }: TallyFigures): readonly TallyCell[] {
  const total = Math.ceil(Math.max(used + reserved, allowed));
  const count = Math.min(total, MOST_CELLS);
  const cells = Array.from({ length: count }, (_, n): Omit<TallyCell, 'edge'> => {
    const middle = ((n + 0.5) * total) / count;
    const kind = middle < used ? 'used' : middle < used + reserved ? 'reserved' : 'left';
    return { kind, over: middle > allowed };
  });
  return cells.map((cell, n) => ({ ...cell, edge: cell.over && cells[n - 1]?.over !== true }));
}

/** The same in words: `2 used, 1 reserved, 0 left of 3`. */
export function tallyInWords({ used, reserved, possible = 0, allowed }: TallyFigures): string {
  const spent = used + reserved;
  return [
    `${used} used`,
    ...(reserved > 0 ? [`${reserved} reserved`] : []),
    ...(possible > 0 ? [`${possible} possible`] : []),
    spent > allowed ? `${spent - allowed} over the ${allowed} allowed` : `${allowed - spent} left of ${allowed}`,
  ].join(', ');
}
