/** Calls what a user gave to be told by. A mistake in there must not stop the sending, and must not go unseen. */
export function told<T extends readonly unknown[]>(listener: ((...about: T) => void) | undefined, ...about: T): void {
  try {
    listener?.(...about);
  } catch (error) {
    process.emitWarning(error instanceof Error ? error : String(error));
  }
}
