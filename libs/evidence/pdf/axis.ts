/** Even numbers along a range, so that about `count` of them fit into it. */
export function ticks(from: number, to: number, count: number): number[] {
  const rough = (to - from) / count || 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((factor) => factor * power).find((one) => one >= rough) ?? 10 * power;
  const first = Math.ceil(from / step);
  const found: number[] = [];
  for (let tick = first; tick * step <= to + step * 1e-9; tick++) found.push(Number((tick * step).toPrecision(12)));
  return found;
}

/** From values of an axis to points on the page. */
export function scale(from: number, to: number, start: number, end: number): (value: number) => number {
  const span = to - from || 1;
  return (value) => start + ((value - from) / span) * (end - start);
}
