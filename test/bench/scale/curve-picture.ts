import { AxisScale, linearScale, logScale, placeOf, tickText, ticksOf } from './axis-scale.js';

export interface Curve {
  readonly label: string;
  /** From left to right. */
  readonly points: readonly (readonly [x: number, y: number])[];
}

export interface Axis {
  /** With its unit. */
  readonly label: string;
  readonly kind: AxisScale['kind'];
}

export interface CurvePicture {
  readonly title: string;
  readonly x: Axis;
  readonly y: Axis;
  readonly curves: readonly Curve[];
}

const SIZE = { width: 760, height: 440 };
/** Room for the axes, and at the right for the names of curves. */
const ROOM = { left: 64, right: 176, top: 52, bottom: 52 };
const LINE_PX = 15;
const GROUND = '#fdfdfb';
/** With more of them a curve is a line alone. */
const MOST_DOTS = 12;
/** Told apart without colour: by how they are dashed, and by the names at their ends. */
const DASHES = ['none', '7 4', '2 3', '10 3 2 3', '14 5', '5 2', '1 4', '10 2 1 2 1 2'];
const INKS = ['#1d4e89', '#8a3b12', '#22543d', '#5b2a6e', '#444444', '#1d4e89', '#8a3b12', '#22543d'];

/** An SVG picture: each curve with its name at its end, on a light ground. @throws Error where no curve has a point */
export function curvePicture({ title, x, y, curves }: CurvePicture): string {
  const points = curves.flatMap((curve) => curve.points);
  if (points.length === 0) throw new Error(`there is nothing to draw for ${title}`);
  const across = scaleFor(
    x,
    points.map(([value]) => value),
  );
  const up = scaleFor(
    y,
    points.map(([, value]) => value),
  );
  const right = SIZE.width - ROOM.right;
  const bottom = SIZE.height - ROOM.bottom;
  const left = (value: number): number => round(ROOM.left + placeOf(across, value) * (right - ROOM.left));
  const top = (value: number): number => round(bottom - placeOf(up, value) * (bottom - ROOM.top));
  const labelTops = apart(
    curves.map(({ points: own }) => top(own.at(-1)?.[1] ?? up.from)),
    bottom,
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="title" viewBox="0 0 ${String(SIZE.width)} ${String(SIZE.height)}" font-family="system-ui, sans-serif" font-size="12" fill="#222222">`,
    `<title id="title">${escaped(title)}</title>`,
    `<rect width="100%" height="100%" fill="${GROUND}"/>`,
    `<text x="16" y="22" font-size="15" font-weight="600">${escaped(title)}</text>`,
    `<text x="16" y="40" fill="#555555">${escaped(y.label)}</text>`,
    ...ticksOf(up).map(
      (tick) =>
        `<path d="M${String(ROOM.left)} ${String(top(tick))}H${String(right)}" stroke="#dddddd"/><text x="${String(ROOM.left - 8)}" y="${String(top(tick) + 4)}" text-anchor="end">${tickText(tick)}</text>`,
    ),
    ...ticksOf(across).map(
      (tick) =>
        `<path d="M${String(left(tick))} ${String(bottom)}v5" stroke="#555555"/><text x="${String(left(tick))}" y="${String(bottom + 20)}" text-anchor="middle">${tickText(tick)}</text>`,
    ),
    `<path d="M${String(ROOM.left)} ${String(bottom)}H${String(right)}" stroke="#555555"/>`,
    `<text x="${String((ROOM.left + right) / 2)}" y="${String(SIZE.height - 12)}" text-anchor="middle" fill="#555555">${escaped(x.label)}</text>`,
    ...curves.map(({ points: own }, n) => {
      const [ink, dash] = [INKS[n % INKS.length] ?? '', DASHES[n % DASHES.length] ?? ''];
      return [
        `<polyline points="${own.map(([px, py]) => `${String(left(px))},${String(top(py))}`).join(' ')}" fill="none" stroke="${ink}" stroke-width="2" stroke-dasharray="${dash}"/>`,
        ...(own.length > MOST_DOTS ? [] : own).map(
          ([px, py]) => `<circle cx="${String(left(px))}" cy="${String(top(py))}" r="2.6" fill="${ink}"/>`,
        ),
      ].join('');
    }),
    // After all curves, with the ground around them, where another curve goes on behind.
    ...curves.map(({ label, points: own }, n) => {
      const ink = INKS[n % INKS.length] ?? '';
      const [endX, endY] = own.at(-1) ?? [across.from, up.from];
      const [beside, labelTop] = [left(endX) + 14, labelTops[n] ?? 0];
      return [
        `<path d="M${String(left(endX) + 4)} ${String(top(endY))}L${String(beside - 3)} ${String(labelTop)}" stroke="#999999"/>`,
        `<text x="${String(beside)}" y="${String(labelTop + 4)}" fill="${ink}" stroke="${GROUND}" stroke-width="4" paint-order="stroke">${escaped(label)}</text>`,
      ].join('');
    }),
    '</svg>',
    '',
  ].join('\n');
}

/** The same places in the same order, with a line of text between any two, and none below the bottom. */
export function apart(tops: readonly number[], bottom: number): readonly number[] {
  const order = tops.map((_, n) => n).sort((a, b) => (tops[a] ?? 0) - (tops[b] ?? 0));
  const placed = [...tops];
  let above = -Infinity;
  for (const n of order) {
    above = Math.max(placed[n] ?? 0, above + LINE_PX);
    placed[n] = above;
  }
  let below = bottom + LINE_PX;
  for (const n of order.toReversed()) {
    below = Math.min(placed[n] ?? 0, below - LINE_PX);
    placed[n] = below;
  }
  return placed;
}

function scaleFor({ kind }: Axis, values: readonly number[]): AxisScale {
  return kind === 'log' ? logScale(values) : linearScale(values);
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

function round(px: number): number {
  return Math.round(px * 10) / 10;
}
