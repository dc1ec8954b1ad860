/** What assemblies, serials, reference designators, devices, parts, stations, operators and profiles may be called. */
export const NAME_PATTERN = '^[A-Za-z0-9._:-]{1,64}$';

/** First path segments that name a stream of their own and so can be no assembly. */
export const RESERVED_ASSEMBLIES: readonly string[] = ['devices', 'stations'];

const name = new RegExp(NAME_PATTERN);

/** `__proto__` would fit the pattern, but names become keys of JSON objects, where it means something else. */
export function isName(text: string): boolean {
  return name.test(text) && text !== '__proto__';
}
