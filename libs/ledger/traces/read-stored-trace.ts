import { millivolts } from '../../domain/trace/its90.js';
import { readTraceCsv } from '../../domain/trace/read-trace-csv.js';
import { Trace } from '../../domain/trace/trace.js';
import { traceInCelsius, VoltageInput } from '../../domain/trace/trace-in-celsius.js';
import { TraceProblem } from '../../domain/trace/trace-problem.js';
import { StoredTrace } from '../ports/trace-store.js';

/** Why a file gives no trace; `line` counts from 1 and is left out where the whole file is meant. */
export type TraceFault = Omit<TraceProblem, 'code'>;

export type StoredTraceReading =
  | {
      readonly ok: true;
      /** Every channel in C. */
      readonly trace: Trace;
      /** What the channels were logged in; mV where one of them was. */
      readonly loggedIn: 'C' | 'mV';
    }
  | { readonly ok: false; readonly faults: readonly TraceFault[] };

/** Reads a trace file into temperatures: C as they stand, mV by the thermocouple and cold junction it came with. */
export function readStoredTrace({ csv, voltage }: Pick<StoredTrace, 'csv' | 'voltage'>): StoredTraceReading {
  const cause = coldJunctionFault(voltage);
  if (cause !== undefined) return { ok: false, faults: [cause] };
  if (csv.includes('\0')) return { ok: false, faults: [NO_TEXT] };
  const reading = readTraceCsv(csv, { unit: voltage === null ? 'C' : 'mV' });
  if (!reading.ok) return { ok: false, faults: reading.problems };
  const { trace } = reading;
  const inVolts = trace.channels.find(({ unit }) => unit === 'mV');
  if (inVolts === undefined) return { ok: true, trace, loggedIn: 'C' };
  if (voltage === null) return { ok: false, faults: [untoldVoltage(inVolts.name)] };
  return { ok: true, trace: traceInCelsius(trace, voltage), loggedIn: 'mV' };
}

const NO_TEXT: TraceFault = {
  detail: 'the file holds NUL bytes, so it is no text that can be read',
  remedy: 'export the log as CSV in UTF-8',
};

function untoldVoltage(channel: string): TraceFault {
  return {
    detail: `channel ${channel} is in mV, and nothing says of which thermocouple`,
    remedy: 'say type (K, J or T) and coldJunctionC with it, or export the log in C',
  };
}

function coldJunctionFault(voltage: VoltageInput | null): TraceFault | undefined {
  if (voltage === null) return undefined;
  const junction = millivolts(voltage.type, voltage.coldJunctionC);
  if (junction.ok) return undefined;
  const { from, to } = junction.range;
  return {
    detail: `a cold junction at ${voltage.coldJunctionC} C is outside the table of type ${voltage.type}`,
    remedy: `give the temperature of the terminals, between ${from} and ${to} C`,
  };
}
