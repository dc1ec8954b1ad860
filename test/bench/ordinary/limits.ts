/** What a subject may spend: the house limits of the product's setup, whose sources stand there. */
export const ALLOWED = {
  'device-excursions': 3,
  'site-reworks': 3,
} as const;

export type LimitKind = keyof typeof ALLOWED;

/** Whether a count has just passed its limit: a hold is raised once, by the event that passes it. */
export function justPassed(limit: LimitKind, before: number, after: number): boolean {
  return before <= ALLOWED[limit] && after > ALLOWED[limit];
}
