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

/**
 * A cursor of a moment and a UUID.
 * @throws RangeError where it is none, before Postgres would stumble over it.
 */
export function fromTimedCursor(cursor: string | null): readonly string[] | null {
  const parts = fromCursor(cursor, 2);
  const [at = '', id = ''] = parts ?? [];
  if (parts !== null && (Number.isNaN(Date.parse(at)) || !isUuid(id))) {
    throw new RangeError('The cursor is not one that this list gave.');
  }
  return parts;
}

export function isUuid(text: string): boolean {
  return /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/.test(text);
}
