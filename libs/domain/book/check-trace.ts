import { Heat } from '../events/heat.js';
import { alloyNamed } from '../heat/alloys.js';
import { governingAlloy } from '../heat/excursion-verdict.js';
import { analyseTrace } from '../trace/analyse-trace.js';
import { compareSummary } from '../trace/compare-summary.js';
import { Subject } from '../subject/subject.js';
import { Judgement } from './judgement.js';

/** Line for time above where neither the summary nor the joint tells one, C: liquidus of SAC305. */
const USUAL_LIQUIDUS_C = 220;

/**
 * Holds what a station summed up of a heat against the trace it names, once that is there. Where they disagree, one of
 * them is not of this heat, or not of this board: the verdicts rest on the summary, so somebody has to look.
 * @param alloys those in the joint.
 */
export function checkTrace(j: Judgement, subject: Subject, heat: Heat | undefined, alloys: readonly string[]): void {
  const trace = heat?.trace === undefined ? undefined : j.world.traces.get(heat.trace);
  if (heat === undefined || trace === undefined) return;
  const joint = governingAlloy(alloys);
  // No solder melts at 0 C or below: such a line is none.
  const told = heat.thermocouples.find(({ liquidusC = 0 }) => liquidusC > 0)?.liquidusC;
  const liquidusC = told ?? (joint && alloyNamed(joint.name)?.liquidusC) ?? USUAL_LIQUIDUS_C;
  const { disagreements } = compareSummary(heat.thermocouples, analyseTrace(trace, { liquidusC }));
  if (disagreements.length === 0) return;
  const details = disagreements.map(({ thermocouple, figure, claimed, why }) => {
    return `thermocouple ${thermocouple}, ${figure}: ${String(claimed)} said; ${why}`;
  });
  j.hold(
    'summary-mismatch',
    subject,
    {
      summary: `The summary of the heat and its trace ${String(heat.trace)} disagree in ${String(details.length)} figures.`,
      details,
    },
    'Find out whether the station named the right trace and channels; have quality judge the heat by the one that is right.',
  );
}
