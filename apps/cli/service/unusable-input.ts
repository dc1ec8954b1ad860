/** What was given cannot be used as it is; nothing was sent. The message has a line for each thing to mend. */
export class UnusableInput extends Error {
  override readonly name = 'UnusableInput';
}
