import type { Decision } from './hold-shape.js';

/** What follows from a decision, and what the release of it takes. */
export const DECISION_MEANS: Readonly<Record<Decision, string>> = {
  'use-as-is': 'Nothing changes. One of the two who sign must be an approver.',
  rework: 'Work on it is cleared again while the hold stays open.',
  repair: 'Work on it is cleared again while the hold stays open, by the procedure that was agreed.',
  scrap: 'Everything is refused from then on. Of a site, the whole board is scrapped.',
  'return-to-customer': 'Only shipping is left, until it has been received again. Of a site, the whole board goes.',
};
