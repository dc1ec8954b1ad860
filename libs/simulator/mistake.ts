/** What goes wrong on a floor, each with something that a book can tell of it. */
export const MISTAKE_KINDS = [
  'wrong-serial',
  'wrong-site',
  'forgotten-bake',
  'posted-twice',
  'posted-anew',
  'late-post',
  'clock-off',
  'uncleared-heat',
  'refused-and-obeyed',
  'refused-and-ignored',
  'overheated',
  'mistyped-figure',
  'uninspected',
] as const;
export type MistakeKind = (typeof MISTAKE_KINDS)[number];

/** What the book should say of a mistake. */
export interface Finding {
  readonly kind: 'hold' | 'warning' | 'refusal' | 'duplicate';
  /** Reason of the hold, code of the warning or refusal; of a duplicate, the id of the event. */
  readonly code: string;
  /** As `subjectKey` writes it. */
  readonly subject: string;
}

/** A mistake that was planted, and all that the book should say of its board. */
export interface PlantedMistake {
  readonly kind: MistakeKind;
  /** `{assembly}/{serial}`. */
  readonly board: string;
  readonly operator: string;
  /** In words, for whoever learns by it. */
  readonly story: string;
  readonly expected: readonly Finding[];
}
