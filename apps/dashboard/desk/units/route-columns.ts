import type { RouteStep } from './route-steps.js';

/** A column of the route: a step, or a pause that is drawn narrow however long it was. */
export type RouteColumn =
  { readonly kind: 'step'; readonly step: RouteStep } | { readonly kind: 'pause'; readonly lengthMs: number };

/** What lies longer than this is said to have been a pause. */
const PAUSE_MS = 2 * 3_600_000;

/** Steps in their order, with the pauses between them. */
export function routeColumns(steps: readonly RouteStep[]): readonly RouteColumn[] {
  const columns: RouteColumn[] = [];
  let untilMs = -Infinity;
  for (const step of steps) {
    const lengthMs = step.fromMs - untilMs;
    if (Number.isFinite(lengthMs) && lengthMs > PAUSE_MS) columns.push({ kind: 'pause', lengthMs });
    columns.push({ kind: 'step', step });
    untilMs = Math.max(untilMs, step.toMs);
  }
  return columns;
}
