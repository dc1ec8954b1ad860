import { alloyNamed } from '../heat/alloys.js';
import { DEFAULT_RATES, RateLabel, RateTable } from './rate-table.js';

/** Why there is no rate, and what would give one. */
export interface UnknownRate {
  readonly kind: 'unknown';
  readonly problem: 'unknown-alloy' | 'not-molten' | 'temperature-out-of-range';
  readonly detail: string;
  readonly remedy: string;
}

interface KnownRate {
  readonly kind: 'rate';
  readonly umPerS: number;
  readonly alloy: string;
  readonly solderC: number;
  readonly flowing: boolean;
  readonly label: RateLabel;
  readonly source: string;
  /** Hotter than the table holds: the same law carried on. */
  readonly extrapolated: boolean;
}

export type CopperRate = KnownRate | UnknownRate;

const GAS_CONSTANT_J_PER_MOL_K = 8.314462618;
const KELVIN = 273.15;
/** No solder in contact with a pad is hotter: such a figure is a tip's setting. House choice. */
const HOTTEST_C = 450;

/**
 * How fast solder takes copper off a pad, um/s: the table's rate at its reference temperature, carried to `solderC` by
 * Arrhenius' law. Valid from the solidus of the solder to the table's `validToC`; above, up to 450 C, the same law is
 * carried on and the result says so. Linear in time (Watanabe, Nagai, Osawa, Shohji, published).
 * An alloy or temperature without an answer comes back as `unknown`.
 * @throws RangeError where the table is not one that `rateTableProblems` passes.
 */
export function copperRate(
  alloy: string,
  solderC: number,
  flowing: boolean,
  table: RateTable = DEFAULT_RATES,
): CopperRate {
  const row = Object.hasOwn(table.rates, alloy) ? table.rates[alloy] : undefined;
  if (row === undefined) {
    return unknown(
      'unknown-alloy',
      `No rate of copper dissolution is known for ${alloy}.`,
      `Enter a rate for ${alloy} in the rate table.`,
    );
  }
  if (!Number.isFinite(solderC) || solderC > HOTTEST_C) {
    return unknown(
      'temperature-out-of-range',
      `${solderC} C is no temperature of solder on a pad (up to ${HOTTEST_C} C).`,
      'State the temperature of the solder, not of the tip.',
    );
  }
  const solidusC = alloyNamed(alloy)?.solidusC ?? 0;
  if (solderC < solidusC) {
    return unknown(
      'not-molten',
      `${alloy} is solid at ${solderC} C (solidus ${solidusC} C).`,
      'Check the temperature of the solder and the alloy that were recorded.',
    );
  }
  const baseUmPerS = flowing ? row.flowingUmPerS : row.stillUmPerS;
  const umPerS = baseUmPerS * arrhenius(table.activationJPerMol, solderC, table.referenceC);
  if (!Number.isFinite(umPerS) || umPerS < 0) throw new RangeError(`the rate table gives no rate for ${alloy}`);
  const { label, source } = row;
  return { kind: 'rate', umPerS, alloy, solderC, flowing, label, source, extrapolated: solderC > table.validToC };
}

function arrhenius(activationJPerMol: number, atC: number, referenceC: number): number {
  const inverse = 1 / (atC + KELVIN) - 1 / (referenceC + KELVIN);
  return Math.exp(-(activationJPerMol / GAS_CONSTANT_J_PER_MOL_K) * inverse);
}

function unknown(problem: UnknownRate['problem'], detail: string, remedy: string): UnknownRate {
  return { kind: 'unknown', problem, detail, remedy };
}
