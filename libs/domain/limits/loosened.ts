import { Allowed, LimitKind } from './limit-rule.js';

/** Whether a limit of this kind says what must at least be there, so that a higher figure is the stricter one. */
export function isLeast(kind: LimitKind): boolean {
  return kind === 'pad-copper-min' || kind === 'guard-band';
}

/** Kinds whose figure is compared with what was spent or measured, so that another figure can be conceded. */
const CONCEDABLE_KINDS = [
  'device-excursions',
  'site-reworks',
  'site-dressings',
  'site-excursions',
  'unit-reflows',
  'pad-copper-min',
  'joint-lead-max',
  'flatness-max',
  'void-fraction-max',
  'body-peak-max',
  'profile-window',
] as const satisfies readonly LimitKind[];

/**
 * What a limit allows once a figure is conceded: every figure of it that the conceded one is looser than gives way to
 * it, so that nothing is ever tightened. Undefined where nothing gives way.
 */
export function loosened(kind: LimitKind, allowed: Allowed, figure: number): Allowed | undefined {
  if (!CONCEDABLE_KINDS.some((known) => known === kind)) return undefined;
  const isLooser = (than: number): boolean => (isLeast(kind) ? figure < than : figure > than);
  if (typeof allowed === 'number') return isLooser(allowed) ? figure : undefined;
  const rows = allowed.flatMap((row) => (typeof row === 'string' ? [] : [row]));
  if (!rows.some(({ max }) => isLooser(max))) return undefined;
  return rows.map((row) => (isLooser(row.max) ? { ...row, max: figure } : row));
}
