import { queryOptions } from '@tanstack/react-query';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';

/** A trace thinned for drawing. */
export type TraceCurve = Schemas['TraceCurve'];

/** Samples that a curve is drawn from: about as many as a wide plot has points across. */
const POINTS = 600;

/**
 * The curve of a trace, thinned so that its peaks and crossings stay. A trace never changes once it is there.
 * @param lineC the line whose crossings are kept and whose stretches above are told, °C; null: none
 */
export function curveQuery(trace: string, lineC: number | null) {
  const query = { points: POINTS, ...(lineC !== null && { liquidusC: lineC }) };
  return queryOptions({
    queryKey: keys.curve(trace, query),
    queryFn: () => dataOf(api.GET('/v1/traces/{trace}/curve', { params: { path: { trace }, query } })),
    staleTime: Infinity,
  });
}
