import type { HoldFinder } from './ledger-holds.js';
import { type RouteColumn, routeColumns } from './route-columns.js';
import { packedSpans, type RouteSpan, routeSpans } from './route-spans.js';
import { BOARD, type RouteStep } from './route-steps.js';

export interface RouteLayout {
  readonly columns: readonly RouteColumn[];
  /** The board first, then sites in order of their names. */
  readonly lanes: readonly string[];
  /** Rows of spans that do not overlap within a row; holds before clearances. */
  readonly spanRows: readonly (readonly RouteSpan[])[];
}

/** Lays steps out in order: a lane for the board and each site, pauses between them, and what lasts over several. */
export function routeLayout(steps: readonly RouteStep[], findHold: HoldFinder): RouteLayout {
  const columns = routeColumns(steps.filter((step) => !isShownAsSpan(step, steps)));
  const sites = new Set(steps.map(({ lane }) => lane).filter((lane) => lane !== BOARD));
  const spans = routeSpans(columns, findHold);
  return {
    columns,
    lanes: [BOARD, ...[...sites].sort((a, b) => a.localeCompare(b, 'en', { numeric: true }))],
    spanRows: ['hold', 'clearance'].flatMap((kind) => packedSpans(spans.filter((span) => span.kind === kind))),
  };
}

/** A clearance that was used is seen by the steps that it covers. */
function isShownAsSpan({ effects }: RouteStep, steps: readonly RouteStep[]): boolean {
  const granted = effects.find((effect) => effect.kind === 'clearance-granted');
  return (
    granted !== undefined &&
    steps.some((step) =>
      step.effects.some((effect) => effect.kind === 'clearance-used' && effect.clearance === granted.clearance),
    )
  );
}
