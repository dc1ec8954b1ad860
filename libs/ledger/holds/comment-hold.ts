import { BookDeps } from '../fold/book-deps.js';
import { DeskRefusal } from './desk-refusal.js';
import { DeskPerson, refuseComment } from './desk-rules.js';
import { HoldRecord } from './hold-record.js';
import { HoldWish, workOnHold } from './work-on-hold.js';

export interface CommentHold extends HoldWish {
  readonly text: string;
  readonly by: DeskPerson;
}

/**
 * Adds a comment. It stands on the hold and in no ledger: ledgers go to customers, and comments are how the house talks
 * with itself. The hold counts as touched from then on.
 */
export async function commentHold(
  deps: BookDeps,
  { text, by, ...wish }: CommentHold,
): Promise<HoldRecord | DeskRefusal> {
  return workOnHold(deps, wish, (hold, at) => {
    const comments = [...hold.comments, { by: by.name, at, text }];
    return refuseComment(hold, by) ?? { hold: { ...hold, touched: true, comments } };
  });
}
