/** The code that Node puts on errors of the file system, such as ENOENT; undefined for anything else. */
export function errorCode(error: unknown): string | undefined {
  const hasCode = typeof error === 'object' && error !== null && 'code' in error;
  return hasCode && typeof error.code === 'string' ? error.code : undefined;
}
