/** The embedded Postgres cannot be used. The message is one line: what is wrong and what would mend it. */
export class EmbeddedPostgresError extends Error {
  override readonly name = 'EmbeddedPostgresError';
}

/** The system's code of a failed call (`ENOENT`, `EACCES`, ...), or the error in words. */
export function errorCode(error: unknown): string {
  if (typeof error === 'object' && error !== null && 'code' in error) return String(error.code);
  return error instanceof Error ? error.message : String(error);
}

/** The error for a folder that cannot be made, read or written by this user. */
export function notWritable(folder: string, cause: unknown): EmbeddedPostgresError {
  return new EmbeddedPostgresError(
    `${folder} cannot be written (${errorCode(cause)}): make it writable for this user, or name another data folder`,
  );
}
