/** How values are laid along an axis. */
export interface AxisScale {
  readonly kind: 'linear' | 'log';
  readonly from: number;
  readonly to: number;
}

/** Where a tick is: 1, 2 or 5 times a power of ten. */
const STEPS = [1, 2, 5, 10];
/** Of a log axis: with fewer decades than this, 2 and 5 are ticks as well. */
const FEW_DECADES = 2;

/** From 0 to the first tick that is not below any value; about as many ticks as asked for. */
export function linearScale(values: readonly number[], ticks = 5): AxisScale {
  const most = Math.max(...values);
  const step = niceStep((most > 0 ? most : 1) / ticks);
  return { kind: 'linear', from: 0, to: rounded(Math.ceil(rounded((most > 0 ? most : 1) / step)) * step) };
}

/** Over whole decades that hold all values. @throws Error where one is not above 0, or there is none */
export function logScale(values: readonly number[]): AxisScale {
  const [least, most] = [Math.min(...values), Math.max(...values)];
  if (!(least > 0) || !Number.isFinite(most)) throw new Error('a log axis takes numbers above 0');
  const from = Math.floor(rounded(Math.log10(least)));
  const to = Math.max(from + 1, Math.ceil(rounded(Math.log10(most))));
  return { kind: 'log', from: 10 ** from, to: 10 ** to };
}

/** Values to write beside an axis, from its beginning to its end. */
export function ticksOf({ kind, from, to }: AxisScale, ticks = 5): readonly number[] {
  if (kind === 'linear') {
    const step = niceStep((to - from) / ticks);
    const count = Math.floor(rounded((to - from) / step));
    return Array.from({ length: count + 1 }, (_, n) => rounded(from + n * step));
  }
  const [first, last] = [Math.round(Math.log10(from)), Math.round(Math.log10(to))];
  const between = last - first <= FEW_DECADES ? [1, 2, 5] : [1];
  const decades = Array.from({ length: last - first }, (_, n) => first + n);
  return [...decades.flatMap((decade) => between.map((times) => rounded(times * 10 ** decade))), rounded(10 ** last)];
}

/** Where a value is: 0 at the beginning of the axis, 1 at its end. */
export function placeOf({ kind, from, to }: AxisScale, value: number): number {
  return kind === 'linear' ? (value - from) / (to - from) : Math.log(value / from) / Math.log(to / from);
}

/** Short: 1500 as `1.5k`, 2 million as `2M`. */
export function tickText(value: number): string {
  const [size, unit] =
    (
      [
        [1e9, 'G'],
        [1e6, 'M'],
        [1e3, 'k'],
      ] as const
    ).find(([from]) => Math.abs(value) >= from) ?? ([1, ''] as const);
  return `${String(Number((value / size).toPrecision(3)))}${unit}`;
}

function niceStep(least: number): number {
  const decade = 10 ** Math.floor(Math.log10(least));
  return (STEPS.find((step) => rounded(step * decade) >= rounded(least)) ?? 10) * decade;
}

/** Without the trifle that binary fractions add. */
function rounded(value: number): number {
  return Number(value.toPrecision(12));
}
