/** A key or an index as a token of a JSON Pointer, slash included. */
export function pointerToken(token: string | number): string {
  return typeof token === 'number' ? `/${token}` : `/${token.replaceAll('~', '~0').replaceAll('/', '~1')}`;
}
