import { ConcessionData } from '../../domain/setup/setup-data.js';
import { StoredRevision } from '../ports/setup-store.js';
import { SetupBook } from '../setup/setup-book.js';

/** A concession as it stands. */
export interface ConcessionRecord extends ConcessionData {
  readonly id: string;
  /** Who signed it. */
  readonly signedBy: string;
  /** Who ended it, and when (RFC 3339 UTC); null while it stands. */
  readonly withdrawal: { readonly by: string; readonly at: string } | null;
}

/** Undefined where there is no concession of that id. The setup must be caught up. */
export function concessionById(setup: SetupBook, id: string): ConcessionRecord | undefined {
  return concessionOf(setup.revisions('concession', id));
}

/** @param revisions of one concession, oldest first */
function concessionOf(revisions: readonly StoredRevision[]): ConcessionRecord | undefined {
  const first = revisions[0];
  const last = revisions.at(-1);
  if (first === undefined || last?.kind !== 'concession') return undefined;
  const withdrawal = last.body.withdrawn ? { by: last.by, at: last.at } : null;
  return { id: last.name, ...last.body, signedBy: first.by, withdrawal };
}
