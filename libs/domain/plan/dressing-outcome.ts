import { DEFAULT_RATES } from '../copper/rate-table.js';
import { CopperContact, remainingCopper, RemainingCopper } from '../copper/remaining-copper.js';
import { DressingMethod } from '../events/station-event.js';
import { alloyNamed } from '../heat/alloys.js';
import { flushesNeeded } from '../lead/flushes-needed.js';
import { Flush, leadInJoint, LeadJoint } from '../lead/lead-in-joint.js';
import { filmVolumeMm3 } from '../lead/solder-volume.js';
import { DRESSING_METHOD_FACTS } from './dressing-methods.js';
import { MethodPlanQuestion } from './plan-question.js';

/** What a dressing and the placement after it are expected to leave behind. */
export interface DressingOutcome {
  /** Levelling and flushes. 0 where the site is dressed already. */
  readonly passes: number;
  readonly flushes: number;
  /** Copper left after placement, um; null where the model does not apply. */
  readonly copperLeftUm: number | null;
  readonly copperCertainty: RemainingCopper['certainty'];
  /** Estimated lead in the finished joint, wt%; null where unknown. */
  readonly leadPct: number | null;
  readonly why: readonly string[];
}

/** Peak of a joint over its liquidus at placement, C. Common practice, no source. */
const PEAK_OVER_LIQUIDUS_C = 25;

/**
 * Copper and lead after dressing by a method and placing the device, from the house's assumed contact time and film of
 * that method. Where the assembly must be free of lead and its remnant is leaded, as many flushes are planned as bring
 * the estimate below the limit.
 */
export function dressingOutcome(question: MethodPlanQuestion, method: DressingMethod): DressingOutcome {
  const lead = leadAfter(question, method);
  const passes = question.stage === 'dressed' ? 0 : 1 + lead.flushes;
  const copper = copperAfter(question, method, passes);
  const { filmUm, contactSeconds } = DRESSING_METHOD_FACTS[method];
  const assumed = `assumed of ${method}: a film of ${filmUm} um, ${contactSeconds} s of solder on a pad in each pass`;
  return {
    passes,
    flushes: lead.flushes,
    copperLeftUm: copper.leftUm,
    copperCertainty: copper.certainty,
    leadPct: lead.leadPct,
    why: [...(passes > 0 ? [assumed] : []), ...lead.why, ...copper.rows.map(rowInWords)],
  };
}

function leadAfter(
  question: MethodPlanQuestion,
  method: DressingMethod,
): { flushes: number; leadPct: number | null; why: readonly string[] } {
  const joint = jointAfter(question, method);
  const { leadFree, limitPct } = question.lead;
  const estimate = leadInJoint(joint);
  if (estimate.kind === 'unknown') return { flushes: 0, leadPct: null, why: [estimate.detail] };
  const asIs = { flushes: 0, leadPct: estimate.leadPct, why: estimate.why };
  const canFlush = question.stage !== 'dressed' && DRESSING_METHOD_FACTS[method].remnant === 'levelled';
  if (!leadFree || !canFlush || estimate.leadPct <= limitPct) return asIs;
  const needed = flushesNeeded(joint, flushOf(question, method), limitPct);
  if (needed.kind !== 'flushes') return { ...asIs, why: [needed.kind === 'never' ? needed.why : needed.detail] };
  const leadPct = needed.leadPct[needed.count] ?? estimate.leadPct;
  return { flushes: needed.count, leadPct, why: [`flushes with ${question.lead.freshAlloy} planned: ${needed.count}`] };
}

function jointAfter({ lead, site, stage }: MethodPlanQuestion, method: DressingMethod): LeadJoint {
  const { filmUm, remnant } = DRESSING_METHOD_FACTS[method];
  const { ball, paste, bathLeadPct, freshAlloy, remnantAlloy } = lead;
  const fromBath = {
    filmUm,
    alloy: freshAlloy,
    ...(bathLeadPct !== undefined && { leadFraction: bathLeadPct / 100 }),
  };
  return {
    ball,
    padDiameterMm: site.padDiameterMm,
    remnant: remnant === 'replaced' && stage !== 'dressed' ? fromBath : { filmUm, alloy: remnantAlloy },
    ...(paste && { paste }),
  };
}

function flushOf({ lead, site }: MethodPlanQuestion, method: DressingMethod): Flush {
  const { filmUm, flushFilms } = DRESSING_METHOD_FACTS[method];
  return { alloy: lead.freshAlloy, volumeMm3: flushFilms * filmVolumeMm3(filmUm, site.padDiameterMm), filmUm };
}

type CopperAfter = Pick<RemainingCopper, 'leftUm' | 'certainty' | 'rows'>;

function copperAfter(question: MethodPlanQuestion, method: DressingMethod, passes: number): CopperAfter {
  const { site, copper, lead, placementPeakC } = question;
  const { leftUm } = copper.left;
  if (leftUm === null) return { leftUm, certainty: 'not-modelled', rows: [] };
  const { contactSeconds, remnant } = DRESSING_METHOD_FACTS[method];
  const first = remnant === 'replaced' ? lead.freshAlloy : lead.remnantAlloy;
  const contacts = Array.from({ length: passes }, (_, i): CopperContact => {
    const solderAlloy = i === 0 ? first : lead.freshAlloy;
    return { kind: 'dressing', what: `${method}, pass ${i + 1}`, method, solderAlloy, contactSeconds };
  });
  const ballAlloy = lead.ball.alloy;
  const peakC = placementPeakC ?? (alloyNamed(ballAlloy)?.liquidusC ?? 0) + PEAK_OVER_LIQUIDUS_C;
  contacts.push({
    kind: 'closed-joint',
    what: 'placement',
    solderAlloy: ballAlloy,
    solderC: peakC,
    freshSolder: true,
    ballDiameterMm: lead.ball.diameterMm,
  });
  // What is left by now is what these pads start from.
  const after = remainingCopper({ ...site, padCopperUm: leftUm }, contacts, copper.table ?? DEFAULT_RATES);
  const unknownBefore = copper.left.certainty === 'at-most' && after.certainty === 'estimate';
  return unknownBefore ? { ...after, certainty: 'at-most' } : after;
}

function rowInWords({ what, lostUm }: RemainingCopper['rows'][number]): string {
  return lostUm === null ? `${what}: copper loss unknown` : `${what}: ${lostUm.toFixed(1)} um of copper`;
}
