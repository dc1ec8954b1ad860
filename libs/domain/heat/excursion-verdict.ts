import { Heat, ThermocouplePosition, ThermocoupleSummary } from '../events/heat.js';
import { alloyNamed } from './alloys.js';
import { ASSUMED_THERMOCOUPLE, ThermocoupleKind, toleranceC } from './thermocouple-tolerance.js';

/** The reading that decided a verdict. Temperatures in C. */
export interface GoverningReading {
  readonly thermocouple: string;
  readonly position: ThermocouplePosition;
  readonly peakC: number;
  readonly uncertaintyC: number;
  /** Who says how uncertain it is: the event, the station's setup, or nobody (an assumed type K class 2). */
  readonly uncertaintyFrom: 'event' | 'station' | 'assumed';
}

/** Whether a heat was an excursion of its subject, and on what grounds. */
export interface MeasuredVerdict {
  readonly counts: boolean;
  readonly reading: GoverningReading;
  readonly alloy: string;
  readonly solidusC: number;
  readonly guardBandC: number;
}

/** What a reading is held against. */
export interface CountingLine {
  /** The alloys in the joint: the one that softens first governs. */
  readonly alloys: readonly string[];
  readonly guardBandC: number;
  /** The station's thermocouples, where its setup says. */
  readonly station: ThermocoupleKind | undefined;
}

/** The alloy of the joint that begins to melt first, or undefined where none of them is known. */
export function governingAlloy(alloys: readonly string[]): { name: string; solidusC: number } | undefined {
  let first: { name: string; solidusC: number } | undefined;
  for (const name of alloys) {
    const alloy = alloyNamed(name);
    if (alloy !== undefined && (first === undefined || alloy.solidusC < first.solidusC)) {
      first = { name, solidusC: alloy.solidusC };
    }
  }
  return first;
}

/**
 * The verdict by measurement: governing peak plus its uncertainty at or above the solidus of the joint less the guard
 * band. `preference` lists groups of positions; the first group with a reading governs, by its hottest reading.
 * Undefined where no reading governs or the joint's alloy is unknown: then the step itself must decide.
 */
export function measuredVerdict(
  readings: readonly ThermocoupleSummary[],
  preference: readonly (readonly ThermocouplePosition[])[],
  line: CountingLine,
): MeasuredVerdict | undefined {
  const alloy = governingAlloy(line.alloys);
  const group = preference.find((positions) => readings.some((reading) => positions.includes(reading.position)));
  if (alloy === undefined || group === undefined) return undefined;
  let hottest: GoverningReading | undefined;
  for (const reading of readings) {
    if (!group.includes(reading.position)) continue;
    const candidate = governing(reading, line.station);
    if (hottest === undefined || upperC(candidate) > upperC(hottest)) hottest = candidate;
  }
  return hottest && judgeReading(hottest, alloy, line.guardBandC);
}

function judgeReading(
  reading: GoverningReading,
  alloy: { name: string; solidusC: number },
  guardBandC: number,
): MeasuredVerdict {
  const counts = upperC(reading) >= alloy.solidusC - guardBandC;
  return { counts, reading, alloy: alloy.name, solidusC: alloy.solidusC, guardBandC };
}

function upperC(reading: GoverningReading): number {
  return reading.peakC + reading.uncertaintyC;
}

function governing(reading: ThermocoupleSummary, station: ThermocoupleKind | undefined): GoverningReading {
  const { id, position, peakC, uncertaintyC } = reading;
  const from = uncertaintyC !== undefined ? 'event' : station !== undefined ? 'station' : 'assumed';
  return {
    thermocouple: id,
    position,
    peakC,
    uncertaintyC: uncertaintyC ?? toleranceC(station ?? ASSUMED_THERMOCOUPLE, peakC),
    uncertaintyFrom: from,
  };
}

/** Which readings govern what: the device by its die or body and, lacking those, by its joint; the site by joint or board. */
export const DEVICE_POSITIONS: readonly (readonly ThermocouplePosition[])[] = [['die', 'body'], ['joint']];
export const SITE_POSITIONS: readonly (readonly ThermocouplePosition[])[] = [['joint', 'board']];
/** A neighbour's site with a reading on its package alone is judged by that, rather than called unknown. */
export const NEIGHBOUR_SITE_POSITIONS: readonly (readonly ThermocouplePosition[])[] = [
  ['joint', 'board'],
  ['die', 'body'],
];

/** The readings of a heat that were taken at a site; one without a refdes was on the step's own site. */
export function readingsAt(heat: Heat, refdes: string, ownRefdes: string | undefined): readonly ThermocoupleSummary[] {
  return heat.thermocouples.filter((reading) => (reading.refdes ?? ownRefdes) === refdes);
}
