import { ThermocouplePosition } from '../../domain/events/heat.js';
import { alloyNamed } from '../../domain/heat/alloys.js';
import { VoltageInput } from '../../domain/trace/trace-in-celsius.js';
import { SeededRandom } from '../seeded-random.js';
import { heatCurve, secondsAbove } from './heat-curve.js';
import { LoggedHeat } from './logged-heat.js';
import { writeTraceCsv } from './write-trace-csv.js';

/** What a channel of a drawn trace was made from: its curve before noise and rounding. */
interface ChannelTruth {
  readonly name: string;
  readonly position: ThermocouplePosition;
  /** False where the input has no thermocouple. */
  readonly connected: boolean;
  readonly peakC: number;
  readonly secondsAboveLiquidus: number;
}

/** A trace as a station would upload it, and the truth behind it. */
export interface LoggedTrace {
  readonly name: string;
  readonly alloy: string;
  readonly liquidusC: number;
  readonly csv: string;
  /** How to read it, where it is in mV. */
  readonly voltage?: VoltageInput;
  readonly lengthS: number;
  readonly channels: readonly ChannelTruth[];
}

/** Draws one heat as its logger would write it. */
export function makeTrace(heat: LoggedHeat, random: SeededRandom): LoggedTrace {
  const { name, alloy, beads, drive, logger } = heat;
  const liquidusC = alloyNamed(alloy)?.liquidusC ?? 0;
  const curves = beads.map(({ lagS, peakC }) => heatCurve(drive, lagS, peakC));
  const channels = beads.map(({ name: channel, position, peakC, fault }, index) => ({
    name: channel,
    position,
    connected: fault !== 'not-connected',
    peakC,
    secondsAboveLiquidus: secondsAbove(curves[index] ?? [], liquidusC),
  }));
  return {
    name,
    alloy,
    liquidusC,
    csv: writeTraceCsv(heat, curves, random),
    ...(logger.coldJunctionC !== undefined && { voltage: { type: 'K' as const, coldJunctionC: logger.coldJunctionC } }),
    lengthS: drive.at(-1)?.[0] ?? 0,
    channels,
  };
}
