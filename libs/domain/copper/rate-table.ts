import { DressingMethod } from '../events/station-event.js';

/** Whether somebody measured a figure, or the house takes it for granted until somebody does. */
export type RateLabel = 'assumption' | 'measured';

/** How fast one solder dissolves copper at the table's reference temperature, um/s. */
interface AlloyRate {
  readonly flowingUmPerS: number;
  readonly stillUmPerS: number;
  readonly label: RateLabel;
  readonly source: string;
}

/** What is taken of a dressing whose station did not say how hot its solder was, or whether it flowed. */
interface ContactPractice {
  readonly solderC: number;
  readonly flowing: boolean;
}

/** How much copper solder can hold, wt%: a straight line by temperature, and what each alloy brings along. */
interface CopperSaturation {
  readonly referenceC: number;
  readonly saturatedPct: number;
  readonly pctPerC: number;
  /** Copper in the fresh alloy, wt%. Alloys that are not listed have no figure. */
  readonly freshPct: Readonly<Record<string, number>>;
  readonly label: RateLabel;
  readonly source: string;
}

/**
 * The model of pad copper as data: plain JSON, so that a house can keep it as a setting and revise it. Rates follow
 * Arrhenius' law from `referenceC`; they hold from the melting of the solder to `validToC`.
 */
export interface RateTable {
  readonly label: RateLabel;
  readonly source: string;
  readonly activationJPerMol: number;
  readonly referenceC: number;
  readonly validToC: number;
  readonly rates: Readonly<Record<string, AlloyRate>>;
  readonly practice: Readonly<Record<DressingMethod, ContactPractice>>;
  readonly practiceSource: string;
  readonly saturation: CopperSaturation;
}

const ASSUMED =
  'Assumption, low confidence: no absolute rate was found in public. Loss linear in time (Watanabe, Nagai, Osawa, ' +
  'Shohji), SAC more than twice Sn63Pb37, Sn99.3Cu0.7Ni lowest, more silver faster are published orderings.';

/** Rates of the reference solder, SAC305 at 260 C, um/s. Assumed. */
const REFERENCE_UM_PER_S = { flowing: 0.95, still: 0.2 };

function relative(factor: number): AlloyRate {
  return {
    flowingUmPerS: factor * REFERENCE_UM_PER_S.flowing,
    stillUmPerS: factor * REFERENCE_UM_PER_S.still,
    label: 'assumption',
    source: ASSUMED,
  };
}

/**
 * What a house starts with. Every rate is an assumption. 260 C is 533.15 K; 300 C as the upper end is a house choice, a
 * little above what pots and pads reach. Solubility 1.3 wt% at 250 C and 1.1 at 240 C in tin-silver-copper with 0.5 wt%
 * copper in it are from memory, and so are the other alloys' copper contents, which their names give. Leaded solder has
 * no solubility here: none was found.
 */
export const DEFAULT_RATES: RateTable = {
  label: 'assumption',
  source: ASSUMED,
  activationJPerMol: 60_000,
  referenceC: 260,
  validToC: 300,
  rates: {
    SAC305: relative(1),
    SAC387: relative(1),
    SAC405: relative(1.05),
    'Sn96.5Ag3.5': relative(1.2),
    'Sn99.3Cu0.7': relative(0.9),
    Sn63Pb37: relative(0.45),
    'Sn99.3Cu0.7Ni': relative(0.4),
  },
  practice: {
    braid: { solderC: 260, flowing: false },
    vacuum: { solderC: 260, flowing: false },
    fountain: { solderC: 260, flowing: true },
    coupon: { solderC: 245, flowing: false },
  },
  practiceSource:
    'Common practice, no source: solder under a braid tip or a nozzle near 260 C whatever the tip is set to, a fountain ' +
    'at 260 C and flowing, a coupon under hot gas near 245 C.',
  saturation: {
    referenceC: 250,
    saturatedPct: 1.3,
    pctPerC: 0.02,
    freshPct: { SAC305: 0.5, SAC405: 0.5, SAC387: 0.7, SAC105: 0.5, 'Sn99.3Cu0.7': 0.7, 'Sn99.3Cu0.7Ni': 0.7 },
    label: 'assumption',
    source: 'From memory: 1.3 wt% copper at 250 C, 1.1 wt% at 240 C; a straight line through both.',
  },
};

/**
 * The table with a house's own rates in place of those it assumed. Rates are at the table's `referenceC`; alloys that
 * nobody measured keep what they had.
 */
export function withRates(table: RateTable, rates: RateTable['rates']): RateTable {
  return { ...table, rates: { ...table.rates, ...rates } };
}
