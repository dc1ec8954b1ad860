/** What assemblies, serials, reference designators, devices, parts, stations, operators and profiles may be called. */
export const NAME_PATTERN = '^[A-Za-z0-9._:-]{1,64}$';

/** First path segments that name a stream of their own and so can be no assembly. */
export const RESERVED_ASSEMBLIES: readonly string[] = ['devices', 'stations'];

const name = new RegExp(NAME_PATTERN);

/** They fit the pattern, but mean something else where names are used: as keys of JSON objects, and in addresses. */
const MEANINGFUL: readonly string[] = ['__proto__', '.', '..'];

export function isName(text: string): boolean {
  return name.test(text) && !MEANINGFUL.includes(text);
}
