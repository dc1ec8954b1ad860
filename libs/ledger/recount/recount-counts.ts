/** How much a recount went through. */
export interface RecountCounts {
  ledgers: number;
  entries: number;
  /** Subjects whose state was added up from entries. */
  states: number;
  holds: number;
  clearances: number;
  /** Accepted events. */
  events: number;
  marks: number;
  leaves: number;
}

export function noCounts(): RecountCounts {
  return { ledgers: 0, entries: 0, states: 0, holds: 0, clearances: 0, events: 0, marks: 0, leaves: 0 };
}
