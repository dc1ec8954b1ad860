import { StandardKey } from './checklist-standards.js';

/** One thing that an auditor asks, where an export shows it, and how to look. No row claims that anything is complied with. */
export interface ChecklistRow {
  readonly standard: StandardKey;
  /** As the standard numbers it. */
  readonly clause: string;
  /** What it is after, in our words. */
  readonly asks: string;
  readonly shownIn: {
    /** JSON Pointers (RFC 6901) into the audit file, version 2; `*` stands for every member of a list. */
    readonly json: readonly string[];
    /** Heading of the section of the PDF. */
    readonly pdf: PdfHeading;
  };
  readonly howToCheck: string;
  /** What no export can show: the house does it, and the auditor asks the house. */
  readonly besides: string;
}

export const PDF_HEADINGS = [
  'Identity and configuration',
  'Route',
  'Heats',
  'Budgets',
  'Inspections',
  'Holds',
  'Parts in and out',
  'Estimated and measured',
  'Open points',
  'Verification',
] as const;
export type PdfHeading = (typeof PDF_HEADINGS)[number];
