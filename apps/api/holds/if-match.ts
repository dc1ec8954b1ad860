/**
 * The version that an If-Match header asks for, as `{ifVersion}`: the hold's `version`, in quotes or not. Nothing where the
 * header is left out or `*`, which any version fits.
 */
export function ifMatch(header: string | undefined): { ifVersion?: string } {
  if (header === undefined || header.trim() === '*') return {};
  return { ifVersion: header.trim().replace(/^"(.*)"$/, '$1') };
}
