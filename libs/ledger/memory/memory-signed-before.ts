import { SignedBefore } from '../ports/signed-before.js';

/** The last checkpoint that a key signed, for as long as this process lives: for tests, and for who signs nothing. */
export class MemorySignedBefore implements SignedBefore {
  #note: string | undefined;

  read(): Promise<string | undefined> {
    return Promise.resolve(this.#note);
  }

  write(note: string): Promise<void> {
    this.#note = note;
    return Promise.resolve();
  }
}
