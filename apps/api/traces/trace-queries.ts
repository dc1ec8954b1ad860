import { Type } from 'class-transformer';
import { MaxLength } from 'class-validator';
import type { ThermocoupleType } from '../../../libs/domain/trace/its90.js';
import { TraceOptions } from '../../../libs/domain/trace/trace-rules.js';
import type { VoltageInput } from '../../../libs/domain/trace/trace-in-celsius.js';
import { CountField, Field, NumberField, OneOfField, PositiveField, Rule } from '../http/fields.js';
import { given } from '../http/given.js';
import { FieldProblem, ProblemError } from '../http/problem.js';

/** Highest temperature that may be asked about, C; no solder of a rework house melts above it. */
const HOTTEST_C = 600;

/** How the columns of an upload are to be read where their headers do not say. */
export class UploadQuery {
  @OneOfField(['C', 'mV'], { optional: true, description: 'Unit of columns whose header names none; C unless told.' })
  readonly unit?: 'C' | 'mV';

  @OneOfField(['K', 'J', 'T'], { optional: true, description: 'Thermocouple behind columns in mV.' })
  readonly type?: ThermocoupleType;

  @Type(() => Number)
  @NumberField({
    optional: true,
    min: -50,
    max: 100,
    description: 'Temperature of the terminals that the mV were measured at, C; 0 where the logger made up for it.',
  })
  readonly coldJunctionC?: number;
}

/** @throws ProblemError invalid-query where only a part of what mV needs is given, or it is given for C */
export function voltageOf({ unit, type, coldJunctionC }: UploadQuery): VoltageInput | null {
  if (unit === 'mV' && type !== undefined && coldJunctionC !== undefined) return { type, coldJunctionC };
  if (unit !== 'mV' && type === undefined && coldJunctionC === undefined) return null;
  const errors: FieldProblem[] = [];
  if (unit !== 'mV') errors.push({ pointer: '/unit', detail: 'must be mV where type or coldJunctionC are given' });
  if (unit === 'mV' && type === undefined) errors.push({ pointer: '/type', detail: 'must be given with unit=mV' });
  if (unit === 'mV' && coldJunctionC === undefined) {
    errors.push({ pointer: '/coldJunctionC', detail: 'must be given with unit=mV' });
  }
  throw new ProblemError('invalid-query', 'Send unit=mV, type and coldJunctionC together, or none of them.', {
    errors,
  });
}

/** What a trace is to be looked at for. */
export class AnalysisQuery {
  @Type(() => Number)
  @PositiveField({ max: HOTTEST_C, description: 'The line: liquidus of the solder, C.' })
  readonly liquidusC!: number;

  @Type(() => Number)
  @PositiveField({ optional: true, max: HOTTEST_C, description: 'Foot of the soak band, C; needs soakToC.' })
  readonly soakFromC?: number;

  @Type(() => Number)
  @PositiveField({ optional: true, max: HOTTEST_C, description: 'Top of the soak band, C; needs soakFromC.' })
  readonly soakToC?: number;

  @Type(() => Number)
  @PositiveField({ optional: true, max: 600, description: 'Stretch over which slopes are fitted, s; 5 unless told.' })
  readonly rampWindowS?: number;

  @Field(
    { optional: true },
    {
      type: String,
      maxLength: 7_000,
      description: 'Channels whose peaks make up the spread, parted by commas; all sound ones unless told.',
    },
    Rule('isText', (value) => typeof value === 'string' && /\S/.test(value), 'must name channels, parted by commas'),
    MaxLength(7_000),
  )
  readonly spreadOver?: string;
}

const LEAST_POINTS = 50;
const MOST_POINTS = 2_000;
export const USUAL_POINTS = 600;

/** How the curves of a trace are wanted. */
export class CurveQuery {
  @Type(() => Number)
  @CountField({
    optional: true,
    min: LEAST_POINTS,
    max: MOST_POINTS,
    description: `About how many points a curve may have, ${USUAL_POINTS} unless told.`,
  })
  readonly points?: number;

  @Type(() => Number)
  @PositiveField({ optional: true, max: HOTTEST_C, description: 'A line, C, whose crossings are kept and told.' })
  readonly liquidusC?: number;
}

/**
 * @param channels names of the channels that the trace has
 * @throws ProblemError invalid-query for half a soak band, one upside down, and channels that the trace has not
 */
export function traceOptions(query: AnalysisQuery, channels: readonly string[]): TraceOptions {
  const { liquidusC, soakFromC, soakToC, rampWindowS } = query;
  const errors = [...soakProblems(query), ...unknownChannels(query, channels)];
  const [first] = errors;
  if (first !== undefined) throw new ProblemError('invalid-query', `${first.pointer} ${first.detail}.`, { errors });
  const spreadOver = query.spreadOver === undefined ? undefined : namesIn(query.spreadOver);
  return { liquidusC, ...given({ soakFromC, soakToC, rampWindowS, spreadOver }) };
}

function soakProblems({ soakFromC, soakToC }: AnalysisQuery): FieldProblem[] {
  if (soakFromC === undefined && soakToC === undefined) return [];
  if (soakFromC === undefined) return [{ pointer: '/soakFromC', detail: 'must be given with soakToC' }];
  if (soakToC === undefined) return [{ pointer: '/soakToC', detail: 'must be given with soakFromC' }];
  return soakToC > soakFromC ? [] : [{ pointer: '/soakToC', detail: 'must be above soakFromC' }];
}

function unknownChannels({ spreadOver }: AnalysisQuery, channels: readonly string[]): FieldProblem[] {
  const unknown = namesIn(spreadOver ?? '').filter((name) => !channels.includes(name));
  if (unknown.length === 0) return [];
  const detail = `names ${unknown.slice(0, 5).join(', ')}; the trace has ${channels.join(', ')}`;
  return [{ pointer: '/spreadOver', detail }];
}

function namesIn(text: string): string[] {
  return text
    .split(',')
    .map((name) => name.trim())
    .filter((name) => name !== '');
}
