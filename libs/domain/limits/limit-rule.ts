export const LIMIT_KINDS = [
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
  'floor-life',
  'qualified-operator',
  'calibrated-station',
  'method-allowed',
  'clearance-required',
  'guard-band',
] as const;
export type LimitKind = (typeof LIMIT_KINDS)[number];

/** Limits that are spent by counting. */
export const BUDGET_KINDS = [
  'device-excursions',
  'site-reworks',
  'site-dressings',
  'site-excursions',
  'unit-reflows',
] as const satisfies readonly LimitKind[];
export type BudgetKind = (typeof BUDGET_KINDS)[number];

export interface LimitScope {
  readonly customer?: string;
  readonly assembly?: string;
  readonly part?: string;
  readonly refdes?: string;
}

/** A number, the names that are allowed, or a number by pitch (the row of the smallest pitch not below the site's). */
export type Allowed = number | readonly string[] | readonly { readonly pitchMm: number; readonly max: number }[];

/** A rule with a number, a scope and a source. Limits are data and have revisions. */
export interface LimitRule {
  readonly kind: LimitKind;
  readonly allowed: Allowed;
  readonly unit: string;
  readonly scope: LimitScope;
  readonly action: 'hold' | 'warn';
  readonly source: string;
  /** Budgets only: spend possible excursions like counted ones. */
  readonly countPossible?: boolean;
  /** RFC 3339: what happens before is judged by the revision before this one. At once where left out. */
  readonly effectiveFrom?: string;
}
