/**
 * Whether a caller who sends this If-None-Match has what the tag stands for already, by the weak comparison of RFC 9110,
 * section 13.1.2.
 */
export function notModified(header: string | undefined, etag: string): boolean {
  if (header === undefined) return false;
  if (header.trim() === '*') return true;
  return header.split(',').some((one) => opaque(one) === opaque(etag));
}

function opaque(tag: string): string {
  return tag.trim().replace(/^W\//, '');
}
