/** npm hands a Ctrl-C on to a process that the terminal has told already: such an echo is no second wish. */
const ECHO_MS = 1000;

/** Resolves at the first SIGINT or SIGTERM; another one, a while later, ends the process at once. */
export function stopSignal(): Promise<NodeJS.Signals> {
  return new Promise((resolve) => {
    let askedAt: number | undefined;
    for (const signal of ['SIGINT', 'SIGTERM'] as const) {
      process.on(signal, () => {
        const now = performance.now();
        if (askedAt !== undefined && now - askedAt > ECHO_MS) process.exit(130);
        askedAt ??= now;
        resolve(signal);
      });
    }
  });
}
