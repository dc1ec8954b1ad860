/**
 * The last checkpoint that a key signed, kept apart from the database: a database that is put back to an earlier state
 * takes its own checkpoints along, and cannot tell.
 */
export interface SignedBefore {
  /** The signed note, or undefined where this key has signed none that is known here. @throws Error where it cannot be read */
  read(): Promise<string | undefined>;
  /** Resolves once it would survive a power cut. @throws Error that says how to mend it */
  write(note: string): Promise<void>;
}
