import type { DrawnSeries, HeatAbove, HeatLine } from './heat-curves-series.js';

/** What lies between a line and the stretch of a series that was over it. */
export interface HeatArea {
  /** Index of the series. */
  readonly series: number;
  readonly overC: number;
  /** The stretch itself, beginning and ending on the line where it crossed it. */
  readonly points: readonly { readonly s: number; readonly c: number }[];
}

/** The stretches over a line, as they are drawn thicker and hatched. One without a line or a sample is none. */
export function heatAreas(
  series: readonly DrawnSeries[],
  above: readonly HeatAbove[],
  lines: readonly HeatLine[],
): readonly HeatArea[] {
  return above.flatMap((stretch) => {
    const overC = stretch.overC ?? lines[0]?.atC;
    if (overC === undefined) return [];
    return series.flatMap((one, n) => {
      if (one.channel !== stretch.channel || (stretch.curve ?? one.curve) !== one.curve) return [];
      const points = one.seconds.flatMap((s, sample) => {
        const c = one.atC[sample] ?? null;
        return c !== null && c >= overC && s >= stretch.fromS && s <= stretch.toS ? [{ s, c }] : [];
      });
      if (points.length === 0) return [];
      return [{ series: n, overC, points: [{ s: stretch.fromS, c: overC }, ...points, { s: stretch.toS, c: overC }] }];
    });
  });
}

/** What both axes show: from and to. */
export interface HeatRanges {
  readonly s: readonly [number, number];
  readonly c: readonly [number, number];
}

/** Room over the highest and under the lowest, of all that is shown. */
const ROOM = 0.08;
/** Seconds before and after what was over a line, when looked at closely. */
const AROUND_S = 20;
/** What is looked at closely begins this far under the lowest line. */
const UNDER_C = 25;

/** Ranges that show every sample and every line. */
export function wholeRanges(series: readonly DrawnSeries[], lines: readonly HeatLine[]): HeatRanges {
  const seconds = series.flatMap((one) => [one.seconds[0] ?? 0, one.seconds.at(-1) ?? 0]);
  const values = [...series.flatMap((one) => one.atC.filter((c) => c !== null)), ...lines.map(({ atC }) => atC)];
  const [lowC, highC] = values.reduce(([low, high], c) => [Math.min(low, c), Math.max(high, c)], [Infinity, -Infinity]);
  if (lowC > highC) return { s: [0, 1], c: [0, 1] };
  const [fromS, toS] = [Math.min(...seconds), Math.max(...seconds)];
  const room = Math.max(1, (highC - lowC) * ROOM);
  return { s: [fromS, Math.max(toS, fromS + 1)], c: [lowC - room, highC + room] };
}

/** Ranges that show closely what was over a line. */
export function closeRanges(whole: HeatRanges, areas: readonly HeatArea[], lines: readonly HeatLine[]): HeatRanges {
  if (areas.length === 0) return whole;
  const seconds = areas.flatMap(({ points }) => points.map(({ s }) => s));
  const lowest = Math.min(...areas.map(({ overC }) => overC), ...lines.map(({ atC }) => atC));
  return {
    s: [Math.max(whole.s[0], Math.min(...seconds) - AROUND_S), Math.min(whole.s[1], Math.max(...seconds) + AROUND_S)],
    c: [Math.max(whole.c[0], lowest - UNDER_C), whole.c[1]],
  };
}

/**
 * Where labels go so that none lies on another: in their order, each as near to where it belongs as the others allow.
 * @param wantedPx where each belongs, ascending
 * @param gapPx from one to the next, at least
 * @param mostPx the last place there is
 */
export function spreadOut(wantedPx: readonly number[], gapPx: number, mostPx: number): readonly number[] {
  const places: number[] = [];
  for (const wanted of wantedPx) places.push(Math.max(wanted, (places.at(-1) ?? -Infinity) + gapPx));
  for (let n = places.length - 1, most = mostPx; n >= 0; n -= 1, most -= gapPx) {
    places[n] = Math.min(places[n] ?? most, most);
  }
  return places;
}
