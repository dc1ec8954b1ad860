/** Thrown by `within`: the work had not settled in time. It may still settle later, unseen. */
class TimeBoxError extends Error {
  constructor(what: string, timeoutMs: number) {
    super(`${what} took longer than ${timeoutMs} ms`);
    this.name = 'TimeBoxError';
  }
}

/**
 * Settles as `work` does, or rejects with a TimeBoxError after `timeoutMs` milliseconds. A late rejection of `work` is
 * swallowed: by then the caller has been told.
 *
 * @param what names the work in the error
 */
export async function within<T>(work: Promise<T>, timeoutMs: number, what: string): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const expiry = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(() => {
      reject(new TimeBoxError(what, timeoutMs));
    }, timeoutMs);
  });
  try {
    return await Promise.race([work, expiry]);
  } finally {
    clearTimeout(timer);
  }
}
