import { Heat, ThermocoupleSummary } from '../../domain/events/heat.js';
import { ASSUMED_THERMOCOUPLE, toleranceC } from '../../domain/heat/thermocouple-tolerance.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { StoredRevision } from '../../ledger/ports/setup-store.js';
import { stationThen } from './station-calibration.js';
import { Verdict } from './story-entry.js';

/** What one thermocouple of a heat said, with the uncertainty that a verdict takes it with. */
export interface HeatReading {
  readonly summary: ThermocoupleSummary;
  readonly label: string;
  readonly uncertaintyC: number;
}

/** The readings of a heat; uncertainty as a verdict used it, else as event, station or the assumed thermocouple give it. */
export function heatReadings(
  entry: SealedEntry,
  { thermocouples }: Heat,
  verdicts: readonly Verdict[],
  configuration: readonly StoredRevision[],
): readonly HeatReading[] {
  const used = new Map(
    verdicts.flatMap(({ count: { verdict } }) => {
      return verdict === undefined ? [] : [[verdict.reading.thermocouple, verdict.reading.uncertaintyC] as const];
    }),
  );
  const kind = stationThen(entry, configuration)?.data?.thermocouple ?? ASSUMED_THERMOCOUPLE;
  return thermocouples.map((summary) => {
    const { id, refdes, position, peakC } = summary;
    return {
      summary,
      label: `${id} (${position}${refdes === undefined ? '' : ` of ${refdes}`})`,
      uncertaintyC: summary.uncertaintyC ?? used.get(id) ?? toleranceC(kind, peakC),
    };
  });
}
