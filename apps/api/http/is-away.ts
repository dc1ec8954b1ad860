/**
 * Node's codes of a connection that failed, and Postgres' (class 08 and 57P), and what it says when it has no disk, memory or
 * connection left (class 53).
 */
const AWAY = /^(ECONNREFUSED|ECONNRESET|EPIPE|ETIMEDOUT|ENOTFOUND|EAI_AGAIN|08...|57P..|53...)$/;
/** What the driver says, without a code, of a connection that ended under a query or was never had. */
const ENDED =
  /^(Connection terminated|Client (was closed|has encountered a connection error)|timeout exceeded when trying)/;

/** Whether an error says that something the service stands on is away, so that the same request may do later. */
export function isAway(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  if ('code' in error && typeof error.code === 'string' && AWAY.test(error.code)) return true;
  if (ENDED.test(error.message)) return true;
  return 'cause' in error && error.cause !== error && isAway(error.cause);
}
