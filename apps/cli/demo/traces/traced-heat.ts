import { Heat, ThermocoupleSummary } from '../../../../libs/domain/events/heat.js';
import { analyseTrace } from '../../../../libs/domain/trace/analyse-trace.js';
import { readTraceCsv } from '../../../../libs/domain/trace/read-trace-csv.js';
import { summariseTrace } from '../../../../libs/domain/trace/summarise-trace.js';
import { traceInCelsius } from '../../../../libs/domain/trace/trace-in-celsius.js';
import { shiftTime } from '../shift-time.js';
import { DemoTrace, makeDemoTraces } from './make-demo-traces.js';

interface RecordedHeat {
  readonly trace: DemoTrace;
  readonly thermocouples: readonly ThermocoupleSummary[];
}

let recorded: ReadonlyMap<string, RecordedHeat> | undefined;

/** The shift's traces, each with what its station summed up of it. Made once: they take a second to draw and read. */
export function recordedHeats(): ReadonlyMap<string, RecordedHeat> {
  recorded ??= new Map(makeDemoTraces().map((trace) => [trace.name, { trace, thermocouples: summedUp(trace) }]));
  return recorded;
}

/**
 * A heat that was logged: it begins at this minute of the shift, lasts as long as its trace, and says what the trace
 * shows.
 * @throws Error for a name that no demo trace has
 */
export function tracedHeat(name: string, from: number): Heat {
  const heat = recordedHeats().get(name);
  if (heat === undefined) throw new Error(`no demo trace ${name}`);
  const { trace, thermocouples } = heat;
  return { startedAt: shiftTime(from), endedAt: shiftTime(from + trace.lengthS / 60), thermocouples, trace: name };
}

/** What a station sums up of a trace. */
export function summedUp({ name, csv, voltage, liquidusC, channels }: DemoTrace): ThermocoupleSummary[] {
  const reading = readTraceCsv(csv, { unit: voltage === undefined ? 'C' : 'mV' });
  if (!reading.ok) throw new Error(`demo trace ${name} cannot be read: ${JSON.stringify(reading.problems)}`);
  const trace = voltage === undefined ? reading.trace : traceInCelsius(reading.trace, voltage);
  const placements = channels.map(({ name: channel, position }) => ({ channel, position }));
  return summariseTrace(analyseTrace(trace, { liquidusC }), placements).thermocouples.map(asShown);
}

/** A station shows tenths of a degree and of a second, and hundredths of a slope. */
function asShown(reading: ThermocoupleSummary): ThermocoupleSummary {
  const { peakC, secondsAboveLiquidus, maxRiseCPerS, maxFallCPerS } = reading;
  return {
    ...reading,
    peakC: rounded(peakC, 1),
    ...(secondsAboveLiquidus !== undefined && { secondsAboveLiquidus: rounded(secondsAboveLiquidus, 1) }),
    ...(maxRiseCPerS !== undefined && { maxRiseCPerS: rounded(maxRiseCPerS, 2) }),
    ...(maxFallCPerS !== undefined && { maxFallCPerS: rounded(maxFallCPerS, 2) }),
  };
}

function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}
