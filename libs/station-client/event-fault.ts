/** Something wrong at one place of an event. */
export interface EventFault {
  /** JSON Pointer (RFC 6901) into the event; empty for the event as a whole. */
  readonly pointer: string;
  /** What is wrong and what is expected, as a sentence. */
  readonly detail: string;
}
