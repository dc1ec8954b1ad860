/** A member of a value of any kind that has come out of JSON; undefined where it has none of that name. */
export function memberOf(value: unknown, member: string): unknown {
  if (typeof value !== 'object' || value === null || !Object.hasOwn(value, member)) return undefined;
  return (value as Readonly<Record<string, unknown>>)[member];
}
