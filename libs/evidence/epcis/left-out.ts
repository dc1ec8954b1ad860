import { BOOK_ENTRY_TYPES } from '../../ledger/fold/book-effect.js';

type BookEntryType = (typeof BOOK_ENTRY_TYPES)[keyof typeof BOOK_ENTRY_TYPES];

const PERMISSION = 'It is a permission or its end: nothing was done to a thing.';

/** Why entries of the book's own may come to no event. Those on holds come to one where the hold is on a thing. */
const BECAUSE: Readonly<Record<BookEntryType, string>> = {
  [BOOK_ENTRY_TYPES.rejudged]: 'It judges anew what was told before; what was done is as it was.',
  [BOOK_ENTRY_TYPES.limitRechecked]: 'It judges by a new limit what was told before; what was done is as it was.',
  [BOOK_ENTRY_TYPES.deviceMoved]: 'The ledger of the unit that the device went on or off tells it.',
  [BOOK_ENTRY_TYPES.clearanceGranted]: PERMISSION,
  [BOOK_ENTRY_TYPES.clearanceReturned]: PERMISSION,
  [BOOK_ENTRY_TYPES.clearanceLapsed]: PERMISSION,
  [BOOK_ENTRY_TYPES.concessionSigned]: PERMISSION,
  [BOOK_ENTRY_TYPES.concessionWithdrawn]: PERMISSION,
  [BOOK_ENTRY_TYPES.annulled]:
    'The events that it strikes are told again as errors, as far as they are in this ledger.',
  [BOOK_ENTRY_TYPES.holdRaised]: 'The hold is on no thing.',
  [BOOK_ENTRY_TYPES.holdDisposed]: 'The hold is on no thing.',
  [BOOK_ENTRY_TYPES.holdReleased]: 'The hold is on no thing.',
};

/** Why an entry came to no event. */
export function whyLeftOut(type: string): string {
  const known = Object.values(BOOK_ENTRY_TYPES).find((own) => own === type);
  return known === undefined ? 'This export knows no such type.' : BECAUSE[known];
}
