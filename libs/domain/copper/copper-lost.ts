import { DressingMethod } from '../events/station-event.js';
import { nonNegative } from '../lead/checked-figure.js';
import { copperRate, CopperRate } from './copper-rate.js';
import { DEFAULT_RATES, RateTable } from './rate-table.js';

/** Molten solder on a pad during one dressing, as its station told it. */
export interface DressingContact {
  readonly method: DressingMethod;
  readonly solderAlloy: string;
  /** The longest that one pad saw over all passes, s. */
  readonly contactSeconds: number;
  /** Absent: the table's practice for the method is taken. */
  readonly solderC?: number | undefined;
  readonly flowing?: boolean | undefined;
}

/** Copper that one contact took, and on what grounds. */
export interface CopperLoss {
  /** um off the pad that saw most; null where no rate is known. */
  readonly lostUm: number | null;
  readonly basis: 'assumed' | 'measured';
  readonly rate: CopperRate;
  readonly why: readonly string[];
  readonly source: string;
}

/**
 * Copper that one dressing took off the pad that saw most, um: rate times seconds. Not capped for any method: a braid
 * and a fountain renew the solder, so that it never saturates, and for a nozzle and a coupon the sum is a safe bound.
 * `measured` only where the rate was measured and the station told both the temperature and the flow.
 * @throws RangeError where the seconds are negative or no number.
 */
export function copperLost(contact: DressingContact, table: RateTable = DEFAULT_RATES): CopperLoss {
  const seconds = nonNegative(contact.contactSeconds, 'contact time in s');
  const { solderAlloy, method } = contact;
  const practice = table.practice[method];
  const solderC = contact.solderC ?? practice.solderC;
  const flowing = contact.flowing ?? practice.flowing;
  const told = contact.solderC !== undefined && contact.flowing !== undefined;
  const rate = copperRate(solderAlloy, solderC, flowing, table);
  const why: string[] = [];
  if (contact.solderC === undefined) why.push(`solder taken to be at ${solderC} C. ${table.practiceSource}`);
  if (contact.flowing === undefined) why.push(`solder taken to be ${flowing ? 'flowing' : 'still'}`);
  if (rate.kind === 'unknown') {
    return { lostUm: null, basis: 'assumed', rate, why: [...why, rate.detail, rate.remedy], source: table.source };
  }
  if (rate.extrapolated) why.push(`${solderC} C is above the range of the table (${table.validToC} C)`);
  why.push(`${seconds} s at ${rounded(rate.umPerS)} um/s in ${solderAlloy} (rate: ${rate.label})`);
  const basis = told && rate.label === 'measured' ? 'measured' : 'assumed';
  return { lostUm: seconds * rate.umPerS, basis, rate, why, source: rate.source };
}

function rounded(umPerS: number): number {
  return Number(umPerS.toPrecision(4));
}
