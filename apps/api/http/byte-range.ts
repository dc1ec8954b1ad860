/** A stretch of a body: first byte, and the one after the last. */
export interface ByteRange {
  readonly from: number;
  readonly to: number;
}

const RANGE = /^bytes=(\d{0,15})-(\d{0,15})$/;

/**
 * The stretch that a Range header asks for, of a body of so many bytes (RFC 9110, section 14.2). Undefined where the whole body is to
 * be sent: without a header, for several ranges at once and for what cannot be understood, all of which a server may pass over.
 * @param header Range
 * @param ifRange If-Range: the range counts only where it names this very body (section 13.1.5)
 * @param etag strong tag of the body
 * @returns `unsatisfiable` where the body has no byte there
 */
export function byteRange(
  { range, ifRange }: { readonly range: string | undefined; readonly ifRange: string | undefined },
  bytes: number,
  etag: string,
): ByteRange | 'unsatisfiable' | undefined {
  const [, first = '', last = ''] = RANGE.exec(range ?? '') ?? [];
  if (first === '' && last === '') return undefined;
  if (ifRange !== undefined && ifRange.trim() !== etag) return undefined;
  if (first === '') {
    const from = Math.max(0, bytes - Number(last));
    return from < bytes ? { from, to: bytes } : 'unsatisfiable';
  }
  const from = Number(first);
  if (last !== '' && Number(last) < from) return undefined;
  if (from >= bytes) return 'unsatisfiable';
  return { from, to: last === '' ? bytes : Math.min(bytes, Number(last) + 1) };
}
