import { nonNegative } from './checked-figure.js';
import { UnknownAlloy } from './lead-fraction.js';
import { LeadEstimate } from './lead-in-joint.js';

export interface LeadQuestion {
  readonly estimate?: LeadEstimate | UnknownAlloy | undefined;
  /** Measured on the finished joint (XRF), wt%. */
  readonly measuredPct?: number | undefined;
  readonly limitPct: number;
}

export interface LeadVerdict {
  /** wt% that the verdict rests on; null where nothing is known. */
  readonly leadPct: number | null;
  readonly basis: 'measured' | 'inferred' | 'assumed' | 'unknown';
  /** null: unknown. */
  readonly passes: boolean | null;
  readonly limitPct: number;
  readonly disagreement?: { readonly measuredPct: number; readonly estimatedPct: number; readonly detail: string };
  readonly remedy?: string;
}

/** An estimate further off than this factor is called a disagreement. House choice: film thickness varies fivefold. */
const TELLING_FACTOR = 3;

/**
 * Whether a joint holds no more lead than allowed. A measurement overrides the estimate; where the two fall on different
 * sides of the limit, or are more than three times apart with one of them above a tenth of it, the verdict says so.
 * @throws RangeError where a percentage is negative or no number.
 */
export function judgeLead({ estimate, measuredPct, limitPct }: LeadQuestion): LeadVerdict {
  nonNegative(limitPct, 'lead limit in wt%');
  const estimatedPct = estimate?.kind === 'estimate' ? estimate.leadPct : undefined;
  if (measuredPct !== undefined) {
    const passes = nonNegative(measuredPct, 'measured lead in wt%') <= limitPct;
    const disagreement = estimatedPct === undefined ? undefined : disagreementOf(measuredPct, estimatedPct, limitPct);
    return {
      leadPct: measuredPct,
      basis: 'measured',
      passes,
      limitPct,
      ...(disagreement && { disagreement }),
      ...(!passes && { remedy: 'Flush the site with lead-free solder, wick it, and measure again.' }),
    };
  }
  if (estimate?.kind !== 'estimate') {
    const remedy = estimate === undefined ? 'Measure the joint (XRF).' : estimate.remedy;
    return { leadPct: null, basis: 'unknown', passes: null, limitPct, remedy };
  }
  const passes = estimate.leadPct <= limitPct;
  return {
    leadPct: estimate.leadPct,
    basis: estimate.basis,
    passes,
    limitPct,
    ...(!passes && { remedy: 'An estimate: measure the joint (XRF), or flush the site with lead-free solder.' }),
  };
}

function disagreementOf(measuredPct: number, estimatedPct: number, limitPct: number): LeadVerdict['disagreement'] {
  const [low, high] = [Math.min(measuredPct, estimatedPct), Math.max(measuredPct, estimatedPct)];
  const otherSide = low <= limitPct && high > limitPct;
  const farApart = high > TELLING_FACTOR * low && high > limitPct / 10;
  if (!otherSide && !farApart) return undefined;
  const detail = `Measured ${figure(measuredPct)} wt%, estimated ${figure(estimatedPct)} wt%${otherSide ? ': on different sides of the limit' : ''}.`;
  return {
    measuredPct,
    estimatedPct,
    detail: `${detail} The measurement counts; look at the remnant that was assumed.`,
  };
}

function figure(pct: number): string {
  return String(Number(pct.toPrecision(3)));
}
