import { ThermocouplePosition, ThermocoupleSummary } from '../events/heat.js';
import { TraceAnalysis } from './channel-analysis.js';

/** Where the thermocouple of a channel was. */
export interface ChannelPlacement {
  readonly channel: string;
  readonly position: ThermocouplePosition;
  readonly refdes?: string;
  readonly uncertaintyC?: number;
}

/** A channel that gave no summary, or one to be taken with care, and why. */
interface ChannelRemark {
  readonly channel: string;
  readonly why: string;
}

export interface TraceSummary {
  readonly thermocouples: readonly ThermocoupleSummary[];
  /** In the summary, yet doubtful: as a rule the figures are a lower bound. */
  readonly doubtful: readonly ChannelRemark[];
  readonly leftOut: readonly ChannelRemark[];
}

/**
 * Sums a trace up as a heat's thermocouples, one for every placed channel that was read. A doubtful channel stays in: to leave
 * out a peak that was seen could hide an excursion. Open and stuck ones are left out, with the reason.
 */
export function summariseTrace(analysis: TraceAnalysis, placements: readonly ChannelPlacement[]): TraceSummary {
  const thermocouples: ThermocoupleSummary[] = [];
  const doubtful: ChannelRemark[] = [];
  const leftOut: ChannelRemark[] = [];
  for (const { channel: name, position, refdes, uncertaintyC } of placements) {
    const channel = analysis.channels.find((candidate) => candidate.name === name);
    if (channel === undefined || channel.state === 'open' || channel.state === 'stuck') {
      leftOut.push({ channel: name, why: channel?.why ?? 'the trace has no such channel' });
      continue;
    }
    if (channel.state === 'suspect') doubtful.push({ channel: name, why: channel.why });
    const { maxRiseCPerS, maxFallCPerS } = channel;
    thermocouples.push({
      id: name,
      ...(refdes !== undefined && { refdes }),
      position,
      peakC: channel.peakC,
      secondsAboveLiquidus: channel.secondsAboveLiquidus,
      liquidusC: analysis.rules.liquidusC,
      ...(maxRiseCPerS !== undefined && { maxRiseCPerS }),
      ...(maxFallCPerS !== undefined && { maxFallCPerS }),
      ...(uncertaintyC !== undefined && { uncertaintyC }),
    });
  }
  return { thermocouples, doubtful, leftOut };
}
