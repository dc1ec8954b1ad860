import { ThermocoupleSummary } from '../../domain/events/heat.js';
import { analyseTrace } from '../../domain/trace/analyse-trace.js';
import { readTraceCsv } from '../../domain/trace/read-trace-csv.js';
import { summariseTrace } from '../../domain/trace/summarise-trace.js';
import { traceInCelsius } from '../../domain/trace/trace-in-celsius.js';
import { LoggedTrace } from './make-trace.js';

/** What a station sums up of a trace, by the analysis of the product. @throws Error where the trace cannot be read */
export function summedUp({ name, csv, voltage, liquidusC, channels }: LoggedTrace): ThermocoupleSummary[] {
  const reading = readTraceCsv(csv, { unit: voltage === undefined ? 'C' : 'mV' });
  if (!reading.ok) throw new Error(`trace ${name} cannot be read: ${JSON.stringify(reading.problems)}`);
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
