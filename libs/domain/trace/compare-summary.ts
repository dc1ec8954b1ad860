import { ThermocoupleSummary } from '../events/heat.js';
import { ChannelAnalysis, OpenChannel, ReadChannel, TraceAnalysis } from './channel-analysis.js';

type SummaryFigure = 'peakC' | 'secondsAboveLiquidus' | 'maxRiseCPerS' | 'maxFallCPerS';

/** How far a summary may be from its trace: the greater of a fixed part and a share of what the trace shows. */
interface FigureTolerance {
  readonly fixed: number;
  readonly share: number;
}

export type SummaryTolerances = Readonly<Record<SummaryFigure, FigureTolerance>>;

/**
 * House choices, wide enough for another logger's filter and window: C, s, C/s.
 * A station that rounds, or fits its slopes over other stretches, still agrees with its own trace.
 */
const SUMMARY_TOLERANCES: SummaryTolerances = {
  peakC: { fixed: 2, share: 0 },
  secondsAboveLiquidus: { fixed: 3, share: 0.1 },
  maxRiseCPerS: { fixed: 0.5, share: 0.25 },
  maxFallCPerS: { fixed: 0.5, share: 0.25 },
};

/** One figure of a summary that its trace does not bear out. */
interface SummaryDisagreement {
  readonly thermocouple: string;
  readonly figure: SummaryFigure;
  readonly claimed: number;
  /** What the trace shows; left out where its channel has no reading to show. */
  readonly shown?: number;
  readonly tolerance?: number;
  readonly why: string;
}

/** A figure that could not be held against the trace. It is no disagreement. */
interface NotCompared {
  readonly thermocouple: string;
  readonly figure?: SummaryFigure;
  readonly why: string;
}

export interface SummaryComparison {
  readonly disagreements: readonly SummaryDisagreement[];
  readonly notCompared: readonly NotCompared[];
}

const FIGURES: readonly SummaryFigure[] = ['peakC', 'secondsAboveLiquidus', 'maxRiseCPerS', 'maxFallCPerS'];

/**
 * Holds the thermocouples of a heat's summary against the analysis of its trace; a thermocouple and its channel bear the
 * same name (case aside). Time above is compared only where both speak of the same line. A temperature claimed for a
 * channel that the trace shows open is a disagreement: nothing was measured there. Figures of doubtful channels are lower
 * bounds, so a claim above them is let pass.
 */
export function compareSummary(
  summary: readonly ThermocoupleSummary[],
  analysis: TraceAnalysis,
  tolerances: SummaryTolerances = SUMMARY_TOLERANCES,
): SummaryComparison {
  const disagreements: SummaryDisagreement[] = [];
  const notCompared: NotCompared[] = [];
  for (const claim of summary) {
    const channel = channelNamed(analysis.channels, claim.id);
    const outcomes =
      channel === undefined
        ? [{ thermocouple: claim.id, why: 'the trace has no channel of that name' }]
        : channel.state === 'open'
          ? [compareOpen(claim, channel, analysis)]
          : FIGURES.map((figure) => compareFigure(claim, figure, channel, analysis, tolerances[figure]));
    for (const outcome of outcomes) {
      if (outcome === undefined) continue;
      if ('claimed' in outcome) disagreements.push(outcome);
      else notCompared.push(outcome);
    }
  }
  return { disagreements, notCompared };
}

function channelNamed(channels: readonly ChannelAnalysis[], name: string): ChannelAnalysis | undefined {
  const exact = channels.find((channel) => channel.name === name);
  return exact ?? channels.find((channel) => channel.name.toLowerCase() === name.toLowerCase());
}

/** A peak beyond all reason on an open channel says the same as the trace: nothing was connected there. */
function compareOpen(
  { id, peakC }: ThermocoupleSummary,
  { why }: OpenChannel,
  { rules }: TraceAnalysis,
): SummaryDisagreement | NotCompared {
  if (peakC < rules.plausibleFromC || peakC > rules.plausibleToC) {
    return { thermocouple: id, why: `summary and trace both show no thermocouple there: ${why}` };
  }
  return { thermocouple: id, figure: 'peakC', claimed: peakC, why: `the trace shows this channel open: ${why}` };
}

function compareFigure(
  claim: ThermocoupleSummary,
  figure: SummaryFigure,
  channel: ReadChannel,
  analysis: TraceAnalysis,
  { fixed, share }: FigureTolerance,
): SummaryDisagreement | NotCompared | undefined {
  const given = claim[figure];
  if (given === undefined) return undefined;
  const thermocouple = claim.id;
  const { liquidusC } = analysis.rules;
  if (figure === 'secondsAboveLiquidus' && claim.liquidusC !== undefined && claim.liquidusC !== liquidusC) {
    return { thermocouple, figure, why: `claimed above ${claim.liquidusC} C, analysed above ${liquidusC} C` };
  }
  const shown = channel[figure];
  if (shown === undefined) return { thermocouple, figure, why: 'the trace is too sparse for a slope' };
  // Some stations give a fall as a negative slope.
  const claimed = figure === 'maxFallCPerS' ? Math.abs(given) : given;
  const tolerance = Math.max(fixed, share * Math.abs(shown));
  const overBy = claimed - shown;
  if (Math.abs(overBy) <= tolerance || (channel.state === 'suspect' && overBy > 0)) return undefined;
  const side = overBy > 0 ? 'more' : 'less';
  const why = `the summary says ${Math.abs(overBy).toFixed(2)} ${side} than the trace, ${tolerance.toFixed(2)} is allowed`;
  return { thermocouple, figure, claimed, shown, tolerance, why };
}
