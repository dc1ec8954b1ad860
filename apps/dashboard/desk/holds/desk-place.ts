import type { HoldPages } from './use-desk-pages.js';

/** Where somebody was in the list when they left it. */
export interface DeskPlace {
  /** What was shown, as the address says it. */
  readonly filter: string;
  readonly pages: HoldPages;
  readonly cursor: number | null;
  readonly scrolledPx: number;
}

let last: DeskPlace | undefined;

/** Keeps the place, so that coming back from a hold goes on where one was. Only the last is kept, in this window alone. */
export function leavePlace(place: DeskPlace): void {
  last = place;
}

/** The place left in the list of this filter, if that was the last one. */
export function placeLeft(filter: string): DeskPlace | undefined {
  return last?.filter === filter ? last : undefined;
}
