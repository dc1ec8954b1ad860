import { ThermocouplePosition } from '../../../../libs/domain/events/heat.js';
import { alloyNamed } from '../../../../libs/domain/heat/alloys.js';
import { VoltageInput } from '../../../../libs/domain/trace/trace-in-celsius.js';
import { SeededRandom } from '../seeded-random.js';
import { DEMO_HEATS, DemoHeat } from './demo-heats.js';
import { heatCurve, secondsAbove } from './heat-curve.js';
import { writeTraceCsv } from './write-trace-csv.js';

/** What a channel of a demo trace was made from: its curve before noise and rounding. */
interface DemoChannelTruth {
  readonly name: string;
  readonly position: ThermocouplePosition;
  /** False where the input has no thermocouple. */
  readonly connected: boolean;
  readonly peakC: number;
  readonly secondsAboveLiquidus: number;
}

/** A trace as a station would upload it, and the truth behind it. */
export interface DemoTrace {
  readonly name: string;
  readonly alloy: string;
  readonly liquidusC: number;
  readonly csv: string;
  /** How to read it, where it is in mV. */
  readonly voltage?: VoltageInput;
  readonly lengthS: number;
  readonly channels: readonly DemoChannelTruth[];
}

const SEED = 20_260_105;

/** Twelve traces of invented heats; the same on every machine. */
export function makeDemoTraces(): DemoTrace[] {
  const random = new SeededRandom(SEED);
  return DEMO_HEATS.map((heat) => makeTrace(heat, random));
}

/** Draws one heat as its logger would write it. */
export function makeTrace(heat: DemoHeat, random: SeededRandom): DemoTrace {
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
