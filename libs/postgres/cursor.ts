/** An opaque cursor: the sort key of the last row of a page. */
export function toCursor(parts: readonly (string | number)[]): string {
  return Buffer.from(JSON.stringify(parts)).toString('base64url');
}

/** @throws RangeError where the text is no cursor of `count` text parts. */
export function fromCursor(cursor: string | null, count: number): readonly string[] | null {
  if (cursor === null) return null;
  try {
    const parts: unknown = JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
    if (Array.isArray(parts) && parts.length === count && parts.every((part) => typeof part === 'string')) return parts;
  } catch {
    // Falls through: whatever does not parse is no cursor of ours.
  }
  throw new RangeError('The cursor is not one that this list gave.');
}
