/** Node's codes of a connection that failed, and Postgres' (classes 08 and 57P, and too many connections). */
const AWAY = /^(ECONNREFUSED|ECONNRESET|EPIPE|ETIMEDOUT|ENOTFOUND|EAI_AGAIN|08...|57P..|53300)$/;

/** Whether an error says that something the service stands on is away, so that the same request may do later. */
export function isAway(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  if ('code' in error && typeof error.code === 'string' && AWAY.test(error.code)) return true;
  return 'cause' in error && error.cause !== error && isAway(error.cause);
}
