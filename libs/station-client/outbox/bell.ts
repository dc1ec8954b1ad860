/** Wakes whoever waits at that moment. */
export class Bell {
  readonly #waiting = new Set<() => void>();

  ring(): void {
    for (const wake of this.#waiting) wake();
  }

  /**
   * Waits for the next ring.
   * @returns false where the time was up before
   */
  async heard(timeoutMs = Infinity): Promise<boolean> {
    let wake = (): void => undefined;
    let timer: NodeJS.Timeout | undefined;
    const isHeard = await new Promise<boolean>((resolve) => {
      wake = () => {
        resolve(true);
      };
      this.#waiting.add(wake);
      // A timer cannot be set for longer.
      if (timeoutMs < 2 ** 31) timer = setTimeout(resolve, timeoutMs, false);
    });
    clearTimeout(timer);
    this.#waiting.delete(wake);
    return isHeard;
  }
}
