import { Heat, ThermocoupleSummary } from '../../../../libs/domain/events/heat.js';
import { LoggedTrace } from '../../../../libs/simulator/traces/make-trace.js';
import { summedUp } from '../../../../libs/simulator/traces/sum-up-trace.js';
import { shiftTime } from '../shift-time.js';
import { makeDemoTraces } from './make-demo-traces.js';

interface RecordedHeat {
  readonly trace: LoggedTrace;
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
