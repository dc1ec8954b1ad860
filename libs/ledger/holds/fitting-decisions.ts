import { HoldSubject } from '../../domain/holds/hold-subject.js';
import { Decision, DECISIONS } from './hold-record.js';

const OF_BOARDS: readonly Decision[] = DECISIONS;
/** A package is reballed or given up; there is no repairing inside it. */
const OF_DEVICES: readonly Decision[] = ['use-as-is', 'rework', 'scrap', 'return-to-customer'];
/** Set right by the house itself; that they may be used again is all there is to decide. */
const OF_THE_HOUSE: readonly Decision[] = ['use-as-is'];

const FITTING: Readonly<Record<HoldSubject['kind'], readonly Decision[]>> = {
  unit: OF_BOARDS,
  site: OF_BOARDS,
  device: OF_DEVICES,
  station: OF_THE_HOUSE,
  operator: OF_THE_HOUSE,
  profile: OF_THE_HOUSE,
};

/**
 * What may be decided about a subject. A site cannot be parted from its board, so that scrap and return decided of a site
 * are of the whole unit. For a station, an operator or a profile `use-as-is` says that it is in order again.
 */
export function fittingDecisions(subject: HoldSubject): readonly Decision[] {
  return FITTING[subject.kind];
}
