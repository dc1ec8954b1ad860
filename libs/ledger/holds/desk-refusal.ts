export type DeskRefusalCode =
  | 'not-found'
  | 'unknown-subject'
  | 'not-allowed'
  | 'signature-required'
  | 'hold-not-open'
  | 'hold-changed'
  | 'hold-full'
  | 'event-still-parked'
  | 'decision-unfit'
  | 'disposition-needed'
  | 'two-people-needed'
  | 'approver-needed'
  | 'concession-unfit'
  | 'concession-not-looser'
  | 'concession-ended'
  | 'legal-hold-lifted';

/** Why the desk does not do what it was asked, and what would mend it. */
export interface DeskRefusal {
  readonly refused: DeskRefusalCode;
  readonly detail: string;
}

export function isRefused(answer: object): answer is DeskRefusal {
  return 'refused' in answer;
}
