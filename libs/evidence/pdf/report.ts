import { AuditSource } from '../../ledger/audits/audit-source.js';
import { Sheet } from './sheet.js';
import { People } from './signature-words.js';
import { StoryMarks } from './story-marks.js';

/** What every section of the document is written from and onto. */
export interface Report {
  readonly source: AuditSource;
  readonly sheet: Sheet;
  readonly marks: StoryMarks;
  readonly people: People;
}

/** Writes one section. It pauses now and then, so that pages that are full can leave. */
export type Section = (report: Report) => Generator<undefined, void> | AsyncGenerator<undefined, void>;
