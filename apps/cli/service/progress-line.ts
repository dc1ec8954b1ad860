interface ProgressStream {
  readonly isTTY?: boolean;
  write(text: string): unknown;
}

/** Each that many parts of the way a line is printed where it cannot be overwritten. */
const STEPS = 10;

/** Says how far something is: on a terminal in one line that is overwritten, elsewhere in few lines. */
export class ProgressLine {
  #said = '';
  #step = '';

  constructor(private readonly stream: ProgressStream) {}

  /** @param what in words, the same for all of one stretch; `whole` at least 1 */
  tell(what: string, have: number, whole: number): void {
    const line = `${what}: ${String(have)} of ${String(whole)}`;
    if (line === this.#said) return;
    if (this.stream.isTTY === true) {
      // Cleared to its end: the line before may have been longer.
      this.stream.write(`\r${line}\u001b[K`);
      this.#said = line;
      return;
    }
    const step = `${what} ${String(Math.floor((STEPS * have) / whole))}`;
    if (step === this.#step) return;
    this.stream.write(`${line}\n`);
    this.#step = step;
    this.#said = line;
  }

  /** Ends the line, so that something else can be printed. */
  end(): void {
    if (this.stream.isTTY === true && this.#said !== '') this.stream.write('\n');
    this.#said = '';
  }
}
