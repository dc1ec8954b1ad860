import { reasonWords } from '../words/words.js';
import { shortSubject } from './effect-words.js';
import { heldKey, type HoldFinder } from './ledger-holds.js';
import type { RouteColumn } from './route-columns.js';
import type { RouteStep } from './route-steps.js';

/** What lasts over several steps: a hold from called to closed, a clearance from granted to used. */
export interface RouteSpan {
  readonly kind: 'hold' | 'clearance';
  /** Its own among the spans. */
  readonly key: string;
  readonly label: string;
  /** Columns from where to where, the last included. */
  readonly from: number;
  readonly to: number;
  /** It has not come to its end. */
  readonly open: boolean;
  /** Of a hold: its id, where it is known. Of a clearance: none. */
  readonly hold: string | undefined;
}

/** What lasts over the columns of a route, in the order in which it began. */
export function routeSpans(columns: readonly RouteColumn[], findHold: HoldFinder): readonly RouteSpan[] {
  const spans = new Map<string, RouteSpan>();
  columns.forEach((column, at) => {
    if (column.kind === 'pause') return;
    for (const effect of column.step.effects) {
      if (effect.kind === 'hold-released' || effect.kind === 'hold-withdrawn') endHold(spans, heldKey(effect), at);
      else if (effect.kind === 'clearance-used') lengthenClearance(spans, effect.clearance, at);
      else if (effect.kind === 'clearance-returned' || effect.kind === 'clearance-lapsed')
        lengthenClearance(spans, effect.clearance, at);
    }
    beginHolds(spans, column.step, { at, to: columns.length - 1, findHold });
  });
  return [...spans.values()].sort((a, b) => a.from - b.from);
}

interface Beginning {
  readonly at: number;
  readonly to: number;
  readonly findHold: HoldFinder;
}

/** What calls for a hold that is open already joins it. */
function beginHolds(spans: Map<string, RouteSpan>, step: RouteStep, { at, to, findHold }: Beginning): void {
  for (const called of step.holds) {
    const key = heldKey(called);
    if (spans.get(key)?.open === true) continue;
    const label = `${reasonWords(called.reason)}, ${shortSubject(called.subject)}`;
    const hold = findHold(called, step.event, step.time);
    spans.set(key, { kind: 'hold', key, label, from: at, to, open: true, hold });
  }
}

/** An ended hold makes room for another of the same kind. */
function endHold(spans: Map<string, RouteSpan>, key: string, at: number): void {
  const span = spans.get(key);
  if (span?.open !== true) return;
  spans.delete(key);
  spans.set(`${key} until ${at}`, { ...span, key: `${key} until ${at}`, to: at, open: false });
}

/** A clearance is drawn from the first step that has to do with it to the last. */
function lengthenClearance(spans: Map<string, RouteSpan>, clearance: string, at: number): void {
  const span = spans.get(clearance);
  const fresh = { kind: 'clearance', key: clearance, label: 'Under clearance', open: false, hold: undefined } as const;
  spans.set(clearance, { ...fresh, from: span?.from ?? at, to: at });
}

/** Spans in as few rows as it takes for none to lie on another, in their order. */
export function packedSpans(spans: readonly RouteSpan[]): readonly (readonly RouteSpan[])[] {
  const rows: RouteSpan[][] = [];
  for (const span of spans) {
    const row = rows.find((one) => (one.at(-1)?.to ?? -1) < span.from);
    if (row === undefined) rows.push([span]);
    else row.push(span);
  }
  return rows;
}
