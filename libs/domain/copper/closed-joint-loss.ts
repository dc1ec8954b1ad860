import { alloyNamed } from '../heat/alloys.js';
import { nonNegative } from '../lead/checked-figure.js';
import { ballVolumeMm3, padAreaMm2 } from '../lead/solder-volume.js';
import { copperRate, UnknownRate } from './copper-rate.js';
import { DEFAULT_RATES, RateTable } from './rate-table.js';

/** A joint that melts with a volume of solder of its own. */
export interface ClosedJoint {
  readonly solderAlloy: string;
  readonly ballDiameterMm: number;
  readonly padDiameterMm: number;
  /** Peak of the joint, C. */
  readonly solderC: number;
  /** Seconds molten, where known: a short heat may end before the solder is saturated. */
  readonly moltenSeconds?: number | undefined;
}

export interface ClosedJointLoss {
  readonly kind: 'loss';
  /** Most that this heat takes from fresh solder, um. */
  readonly lostUm: number;
  /** What the volume of solder can take in all, um. */
  readonly capUm: number;
  readonly limitedBy: 'saturation' | 'time';
  readonly saturatedPct: number;
  readonly freshPct: number;
  readonly solderMg: number;
  readonly basis: 'assumed';
  readonly why: readonly string[];
  readonly source: string;
}

/** Density of copper, mg/mm3. From memory; the worked figures agree with it. */
const COPPER_MG_PER_MM3 = 8.96;

/**
 * Copper that one fresh volume of solder takes off its pad, um: at most what saturates it, and that once, not at every
 * reflow. All of it is put on the board's pad though the device's pad gives some too, so the figure is an upper bound.
 * The solubility is known at 240 and 250 C (from memory); a straight line through both is carried on elsewhere.
 * @throws RangeError where a length or time does not fit.
 */
export function closedJointLoss(joint: ClosedJoint, table: RateTable = DEFAULT_RATES): ClosedJointLoss | UnknownRate {
  const { solderAlloy, solderC } = joint;
  const { saturation } = table;
  const alloy = alloyNamed(solderAlloy);
  const freshPct = Object.hasOwn(saturation.freshPct, solderAlloy) ? saturation.freshPct[solderAlloy] : undefined;
  const solderMm3 = ballVolumeMm3(joint.ballDiameterMm);
  const areaMm2 = padAreaMm2(joint.padDiameterMm);
  const seconds = joint.moltenSeconds === undefined ? undefined : nonNegative(joint.moltenSeconds, 'molten time in s');
  if (alloy === undefined || freshPct === undefined) {
    const detail = `How much copper ${solderAlloy} can hold is not known.`;
    const remedy = `Enter the copper content of ${solderAlloy} under saturation in the rate table.`;
    return { kind: 'unknown', problem: 'unknown-alloy', detail, remedy };
  }
  const still = copperRate(solderAlloy, solderC, false, table);
  if (still.kind === 'unknown' && still.problem !== 'unknown-alloy') return still;
  const saturatedPct = saturation.saturatedPct + saturation.pctPerC * (solderC - saturation.referenceC);
  const solderMg = solderMm3 * alloy.densityGPerCm3;
  const takenMg = (solderMg * Math.max(0, saturatedPct - freshPct)) / 100;
  const capUm = (takenMg / (COPPER_MG_PER_MM3 * areaMm2)) * 1000;
  const byTimeUm = seconds === undefined || still.kind === 'unknown' ? Infinity : seconds * still.umPerS;
  const why = [
    `${rounded(solderMg)} mg ${solderAlloy} with ${freshPct} wt% copper holds ${rounded(saturatedPct)} wt% at ${solderC} C`,
  ];
  if (solderC < 240 || solderC > 250) why.push('solubility outside 240 to 250 C is carried on in a straight line');
  return {
    kind: 'loss',
    lostUm: Math.min(capUm, byTimeUm),
    capUm,
    limitedBy: byTimeUm < capUm ? 'time' : 'saturation',
    saturatedPct,
    freshPct,
    solderMg,
    basis: 'assumed',
    why,
    source: saturation.source,
  };
}

function rounded(figure: number): number {
  return Number(figure.toPrecision(4));
}
