import { celsiusAtTip, millivolts, ThermocoupleType } from './its90.js';
import { at, markAt, OPEN, READ, Trace, TraceChannel } from './trace.js';

/** What the voltages of a log need to become temperatures. */
export interface VoltageInput {
  readonly type: ThermocoupleType;
  readonly coldJunctionC: number;
}

/**
 * The trace with every channel in mV turned into C by the ITS-90 functions, cold junction taken into account; channels in
 * C are left as they are. A voltage outside the tables (an input that floats or sits at its rail) is marked as open.
 * RangeError where the cold junction is outside the range of the type.
 */
export function traceInCelsius(trace: Trace, input: VoltageInput): Trace {
  const junction = millivolts(input.type, input.coldJunctionC);
  if (!junction.ok) {
    const { from, to } = junction.range;
    throw new RangeError(`a cold junction of type ${input.type} lies between ${from} and ${to} C`);
  }
  const notes = [...trace.notes];
  const channels = trace.channels.map((channel) => (channel.unit === 'mV' ? convert(channel, input, notes) : channel));
  return { ...trace, channels, notes };
}

function convert(channel: TraceChannel, { type, coldJunctionC }: VoltageInput, notes: string[]): TraceChannel {
  const values = new Float64Array(channel.values.length);
  const marks = Uint8Array.from(channel.marks);
  let outside = 0;
  for (let index = 0; index < values.length; index++) {
    if (markAt(marks, index) !== READ) continue;
    const tip = celsiusAtTip(type, at(channel.values, index), coldJunctionC);
    if (tip.ok) {
      values[index] = tip.value;
    } else {
      marks[index] = OPEN;
      outside++;
    }
  }
  notes.push(`${channel.name}: mV read as type ${type} with the cold junction at ${coldJunctionC} C (ITS-90)`);
  if (outside > 0) notes.push(`${channel.name}: ${outside} voltages outside the table of type ${type}, taken as open`);
  return { name: channel.name, unit: 'C', values, marks };
}
