import type { Schemas } from '../api/client.js';
import { methodWords } from '../words/words.js';

export type LimitBody = Schemas['LimitBody'];
export type LimitKind = LimitBody['kind'];

/** What kinds of limits look at: spent by counting, a figure, or each step by itself, of which none is allowed. */
const NATURES: Readonly<Record<LimitKind, 'budget' | 'figure' | 'each-step'>> = {
  'device-excursions': 'budget',
  'site-reworks': 'budget',
  'site-dressings': 'budget',
  'site-excursions': 'budget',
  'unit-reflows': 'budget',
  'pad-copper-min': 'figure',
  'joint-lead-max': 'figure',
  'flatness-max': 'figure',
  'void-fraction-max': 'figure',
  'body-peak-max': 'figure',
  'profile-window': 'figure',
  'floor-life': 'figure',
  'guard-band': 'figure',
  'qualified-operator': 'each-step',
  'calibrated-station': 'each-step',
  'method-allowed': 'figure',
  'clearance-required': 'each-step',
};

/** Every kind, in the order that lists are in. */
export const LIMIT_KINDS = Object.keys(NATURES) as readonly LimitKind[];

/** Spent by counting, so that possible excursions may be counted as well. */
export function isBudget(kind: LimitKind): boolean {
  return NATURES[kind] === 'budget';
}

/** Judges each step by itself: nothing but 0 is allowed. */
export function judgesEachStep(kind: LimitKind): boolean {
  return NATURES[kind] === 'each-step';
}

/** The kind of that name, or undefined. */
export function limitKind(text: string | null): LimitKind | undefined {
  return LIMIT_KINDS.find((kind) => kind === text);
}

/** What is allowed, with its unit; a table by pitch row by row. Answers of a what-if have it without a type. */
export function allowedWords(allowed: unknown, unit: string): string {
  if (typeof allowed === 'number') return `${allowed} ${unitWords(unit)}`;
  if (!Array.isArray(allowed)) return 'nothing set';
  const rows: readonly unknown[] = allowed;
  return rows.map((row) => rowWords(row, unit)).join('; ');
}

function rowWords(row: unknown, unit: string): string {
  if (typeof row === 'string') return methodWords(row);
  if (typeof row !== 'object' || row === null || !('pitchMm' in row) || !('max' in row)) return '?';
  return `${String(row.max)} ${unitWords(unit)} to pitch ${String(row.pitchMm)} mm`;
}

/** Whom a limit is for. */
export function scopeWords({ customer, assembly, part, refdes }: NonNullable<LimitBody['scope']>): string {
  const parts = [
    customer !== undefined && `customer ${customer}`,
    assembly !== undefined && `assembly ${assembly}`,
    part !== undefined && `part ${part}`,
    refdes !== undefined && `site ${refdes}`,
  ].filter((part) => part !== false);
  return parts.length === 0 ? 'the whole house' : parts.join(', ');
}

/** What is done about whatever goes beyond a limit. */
export function actionWords(action: LimitBody['action']): string {
  return action === 'hold' ? 'a hold' : 'a warning';
}

/** Units as they are printed; the API spells them in ASCII. */
export function unitWords(unit: string): string {
  if (unit === 'um') return 'µm';
  return unit === 'C' || unit.startsWith('C ') ? `°${unit}` : unit;
}
