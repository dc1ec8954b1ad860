/** One field that differs; `from` or `to` is left out where it is not there. */
export interface FieldChange {
  /** Such as `sites[U1].padCopperUm`; empty for the whole. */
  readonly field: string;
  readonly from?: unknown;
  readonly to?: unknown;
}

/** What tells the items of a list apart, where each has it and no two have the same. */
const KEYS = ['refdes', 'skill', 'pitchMm'] as const;

/**
 * What would have to be changed to make of one JSON value the other, field by field. Items of a list are told apart by their name, where
 * they have one: which comes first means nothing then.
 */
export function fieldChanges(from: unknown, to: unknown, field = ''): readonly FieldChange[] {
  if (isList(from) && isList(to)) return listChanges(from, to, field);
  if (isRecord(from) && isRecord(to)) return memberChanges(from, to, (key) => (field === '' ? key : `${field}.${key}`));
  if (from === to) return [];
  return [{ field, ...(from !== undefined && { from }), ...(to !== undefined && { to }) }];
}

type Members = Readonly<Record<string, unknown>>;

function memberChanges(from: Members, to: Members, fieldOf: (key: string) => string): readonly FieldChange[] {
  const keys = new Set([...Object.keys(from), ...Object.keys(to)]);
  return [...keys].flatMap((key) => fieldChanges(own(from, key), own(to, key), fieldOf(key)));
}

function listChanges(from: readonly unknown[], to: readonly unknown[], field: string): readonly FieldChange[] {
  const [before, after] = [byKey(from), byKey(to)];
  if (before !== undefined && after !== undefined) return memberChanges(before, after, (key) => `${field}[${key}]`);
  // Whole lists of plain values are easier to read than their places.
  if (from.length !== to.length || ![...from, ...to].every(isRecord)) {
    return JSON.stringify(from) === JSON.stringify(to) ? [] : [{ field, from, to }];
  }
  return from.flatMap((item, place) => fieldChanges(item, to[place], `${field}[${String(place)}]`));
}

/** The items by their names, or undefined where not all have one of their own. */
function byKey(items: readonly unknown[]): Members | undefined {
  if (items.length === 0) return {};
  for (const key of KEYS) {
    const names = items.map((item) => (isRecord(item) ? item[key] : undefined));
    const isNamed = names.every((name) => typeof name === 'string' || typeof name === 'number');
    if (isNamed && new Set(names).size === items.length) {
      return Object.fromEntries(items.map((item, place) => [String(names[place]), item]));
    }
  }
  return undefined;
}

function own(members: Members, key: string): unknown {
  return Object.hasOwn(members, key) ? members[key] : undefined;
}

function isList(value: unknown): value is readonly unknown[] {
  return Array.isArray(value);
}

function isRecord(value: unknown): value is Members {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
