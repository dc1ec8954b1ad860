export const EVENT_QUEUE = 'events';

/** One event to be worked. */
export interface EventJob {
  /** Of its row. */
  readonly eventId: string;
}
