import { entryWords } from '../words/words.js';
import { ANNULLED, MOVED, REJUDGED } from './entry-parts.js';
import type { LedgerSource } from './ledger-queries.js';

/** Types of entries that one may look for in the ledger of a board. */
const UNIT_TYPES: readonly string[] = [
  'heatbook.unit.received.v1',
  'heatbook.unit.baked.v1',
  'heatbook.exposure.started.v1',
  'heatbook.exposure.stopped.v1',
  'heatbook.unit.reflowed.v1',
  'heatbook.device.removed.v1',
  'heatbook.site.dressed.v1',
  'heatbook.device.placed.v1',
  'heatbook.site.heated.v1',
  'heatbook.site.cleaned.v1',
  'heatbook.site.repaired.v1',
  'heatbook.inspection.recorded.v1',
  'heatbook.unit.shipped.v1',
  'heatbook.unit.scrapped.v1',
];

const DEVICE_TYPES: readonly string[] = [
  'heatbook.device.received.v1',
  'heatbook.device.baked.v1',
  'heatbook.exposure.started.v1',
  'heatbook.exposure.stopped.v1',
  'heatbook.device.deballed.v1',
  'heatbook.device.reballed.v1',
  MOVED,
  'heatbook.inspection.recorded.v1',
  'heatbook.device.scrapped.v1',
];

/** Types that the book writes by itself or for a person. */
const BOOK_TYPES: readonly string[] = [
  'heatbook.clearance.granted.v1',
  'heatbook.clearance.returned.v1',
  'heatbook.clearance.lapsed.v1',
  'heatbook.hold.raised.v1',
  'heatbook.hold.disposed.v1',
  'heatbook.hold.released.v1',
  'heatbook.concession.signed.v1',
  'heatbook.concession.withdrawn.v1',
  ANNULLED,
  REJUDGED,
  'heatbook.limit.rechecked.v1',
];

/** The types that a ledger may have, by what happened; first what stations tell, then what the book adds. */
export function ledgerTypes(kind: LedgerSource['kind']): readonly { readonly type: string; readonly words: string }[] {
  const stations = kind === 'unit' ? UNIT_TYPES : DEVICE_TYPES;
  return [...stations, ...BOOK_TYPES].map((type) => ({ type, words: entryWords(type) }));
}
