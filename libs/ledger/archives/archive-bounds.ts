/** Units of one archive. */
export const MOST_UNITS = 10_000;
/** Archives of one principal that are not made yet. */
export const MOST_UNFINISHED = 3;
/** Archives of one principal that are kept, unfinished ones among them. */
export const MOST_KEPT = 20;
/** Bytes of one archive. */
export const MOST_ARCHIVE_BYTES = 16 * 2 ** 30;
/** Bytes of everybody's archives: beyond, nobody can ask for another until some are removed or have expired. */
export const MOST_BYTES_IN_ALL = 64 * 2 ** 30;
/**
 * How long an archive is kept once it has ended: a week is enough to fetch it, and it can be asked for again at any time,
 * since everything in it comes from the book.
 */
export const KEPT_MS = 7 * 86_400_000;
/** Attempts at one unit before the archive is given up. */
export const MOST_ATTEMPTS = 3;
