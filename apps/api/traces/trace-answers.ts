import { TraceAnalysis } from '../../../libs/domain/trace/channel-analysis.js';
import { TraceCurve } from '../../../libs/domain/trace/trace-curve.js';
import { KeptTrace } from '../../../libs/ledger/traces/keep-trace.js';
import { TraceFault } from '../../../libs/ledger/traces/read-stored-trace.js';
import { ProblemError } from '../http/problem.js';

/** What an upload is answered with, so that a station sees how its file was understood. */
export interface KeptTraceAnswer {
  readonly name: string;
  /** Lower-case hex SHA-256 of the uploaded bytes. */
  readonly contentHash: string;
  readonly rows: number;
  readonly channels: readonly string[];
  /** What the channels were logged in; mV where one of them was. */
  readonly unit: 'C' | 'mV';
  readonly notes: readonly string[];
}

export interface AnalysisAnswer extends TraceAnalysis {
  readonly trace: string;
  readonly contentHash: string;
}

export interface CurveAnswer extends TraceCurve {
  readonly trace: string;
  /** The line that `above` is about, C; null where none was asked for. */
  readonly liquidusC: number | null;
}

export function keptTraceAnswer({ stored, trace, loggedIn }: KeptTrace): KeptTraceAnswer {
  return {
    name: stored.name,
    contentHash: stored.contentHash,
    rows: trace.seconds.length,
    channels: trace.channels.map(({ name }) => name),
    unit: loggedIn,
    notes: trace.notes,
  };
}

/** A pointer names the line of the file, counted from 1; it is empty where the whole file is meant. */
export function unreadableTrace(faults: readonly TraceFault[]): ProblemError {
  const errors = faults.map(({ line, detail, remedy }) => {
    const where = line === undefined ? '' : `Line ${line}: `;
    return { pointer: line === undefined ? '' : `/lines/${line}`, detail: `${where}${detail}; ${remedy}.` };
  });
  const more = errors.length > 1 ? ` (And ${errors.length - 1} more, see errors.)` : '';
  return new ProblemError('unreadable-trace', `${errors[0]?.detail ?? 'The file holds no trace.'}${more}`, { errors });
}
