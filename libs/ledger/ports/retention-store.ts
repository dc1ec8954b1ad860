import { DueUnit, RetentionTerm } from '../retention/due-unit.js';
import { LegalAct, LegalHold } from '../retention/legal-hold.js';
import { Page, PageRequest } from './read-store.js';

export interface DueQuery {
  /** At most one for a customer; units of customers without one are kept for ever. */
  readonly terms: readonly RetentionTerm[];
  /** RFC 3339: units whose time is over by then. */
  readonly before: string;
}

/** Keeps legal holds, and finds what has been kept long enough. Nothing of a legal hold is ever changed but that it is lifted. */
export interface RetentionStore {
  addLegalHold(hold: LegalHold): Promise<void>;
  legalHold(id: string): Promise<LegalHold | undefined>;
  /**
   * Lifts a hold that is in force.
   * @returns the hold as it is now: with another lift than the given one where somebody was first
   * @throws Error where whoever set it would lift it
   */
  liftLegalHold(id: string, lift: LegalAct): Promise<LegalHold | undefined>;
  /** Newest first; those that are in force or lifted alone where told. */
  legalHolds(state: 'in-force' | 'lifted' | undefined, page: PageRequest): Promise<Page<LegalHold>>;
  /** Units that left for good and whose time is over, without those that a legal hold is over, by key. */
  due(query: DueQuery, page: PageRequest): Promise<Page<DueUnit>>;
}
