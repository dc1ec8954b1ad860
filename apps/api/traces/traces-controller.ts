import { Body, Controller, Get, Inject, Param, Put, Query, Res } from '@nestjs/common';
import { ApiBody, ApiConsumes, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { analyseTrace } from '../../../libs/domain/trace/analyse-trace.js';
import { Trace } from '../../../libs/domain/trace/trace.js';
import { traceCurve } from '../../../libs/domain/trace/trace-curve.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { StoredTrace } from '../../../libs/ledger/ports/trace-store.js';
import { keepTrace } from '../../../libs/ledger/traces/keep-trace.js';
import { readStoredTrace } from '../../../libs/ledger/traces/read-stored-trace.js';
import { traceBytes } from '../../../libs/ledger/traces/trace-text.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { NamePipe } from '../http/name-pipe.js';
import { ProblemError } from '../http/problem.js';
import { Caller, HOUSE, Roles } from '../identity/roles.js';
import { Answers, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import {
  type AnalysisAnswer,
  type CurveAnswer,
  type KeptTraceAnswer,
  keptTraceAnswer,
  unreadableTrace,
} from './trace-answers.js';
import { AnalysisQuery, CurveQuery, traceOptions, UploadQuery, USUAL_POINTS, voltageOf } from './trace-queries.js';

/** Files of thermocouple loggers, kept as they came, and what they show. */
@ApiTags('traces')
@Roles('station', ...HOUSE)
@Controller('v1/traces')
export class TracesController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Put(':trace')
  @Roles('station', 'admin')
  @ApiConsumes('text/csv')
  @ApiBody({ required: true, schema: { type: 'string', description: 'The log: time, then one column a channel.' } })
  @Answers(201, 'The trace is kept.', ref('KeptTrace'))
  @Answers(200, 'The name had the same bytes already.', ref('KeptTrace'))
  @Problems(
    'trace-conflict',
    'too-large',
    'unknown-media-type',
    'unreadable-trace',
    'invalid-name',
    'invalid-query',
    'bad-request',
  )
  async putTrace(
    @Param('trace', NamePipe) name: string,
    @Query() query: UploadQuery,
    @Body() body: unknown,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<KeptTraceAnswer> {
    const wish = { name, voltage: voltageOf(query), by: caller.name, bytes: bytesOf(body) };
    const { traces, clock, intake } = this.deps;
    const kept = await keepTrace({ traces, seal: intake.seal, clock }, wish);
    if (kept.outcome === 'unreadable') throw unreadableTrace(kept.faults);
    if (kept.outcome === 'different') {
      throw new ProblemError(
        'trace-conflict',
        `${name} is another file, or the same file read in another way, and stays so; send this one under a new name.`,
      );
    }
    // Whoever did not hear our answer sends the trace again: what hangs on it may still be waiting, too.
    await this.deps.traceArrived(name);
    void reply.status(kept.outcome === 'created' ? 201 : 200);
    return keptTraceAnswer(kept);
  }

  @Get(':trace')
  @ApiResponse({
    status: 200,
    description: 'The bytes as they were uploaded. ETag is their SHA-256.',
    content: { 'text/csv': { schema: { type: 'string' } } },
  })
  @Problems('not-found')
  async getTrace(@Param('trace') name: string, @Res({ passthrough: true }) reply: FastifyReply): Promise<Buffer> {
    const stored = await this.find(name);
    void reply.headers({
      'content-type': 'text/csv',
      'content-disposition': `attachment; filename="${name.replaceAll(':', '_')}.csv"`,
      etag: `"${stored.contentHash}"`,
    });
    return traceBytes(stored);
  }

  @Get(':trace/analysis')
  @Answers(200, 'What each channel shows, by which rules, and whether it can be believed.', ref('TraceAnalysis'))
  @Problems('not-found', 'invalid-query', 'unreadable-trace')
  async analyse(@Param('trace') name: string, @Query() query: AnalysisQuery): Promise<AnalysisAnswer> {
    const stored = await this.find(name);
    const trace = readTrace(stored);
    const channels = trace.channels.map((channel) => channel.name);
    const analysis = analyseTrace(trace, traceOptions(query, channels));
    return { trace: name, contentHash: stored.contentHash, ...analysis, notes: [...trace.notes, ...analysis.notes] };
  }

  @Get(':trace/curve')
  @Answers(
    200,
    'Its channels for drawing, with fewer points: no peak and no crossing of the line moves.',
    ref('TraceCurve'),
  )
  @Problems('not-found', 'invalid-query', 'unreadable-trace')
  async getCurve(
    @Param('trace') name: string,
    @Query() { points = USUAL_POINTS, liquidusC: lineC }: CurveQuery,
  ): Promise<CurveAnswer> {
    const trace = readTrace(await this.find(name));
    const liquidusC = lineC ?? null;
    return { trace: name, liquidusC, ...traceCurve(trace, { points, liquidusC }) };
  }

  private async find(name: string): Promise<StoredTrace> {
    const stored = await this.deps.traces.get(name);
    if (stored !== undefined) return stored;
    throw new ProblemError('not-found', `There is no trace ${name}; upload it with PUT.`);
  }
}

/** @throws ProblemError unreadable-trace: it could be read when it was kept, and the reader may have grown stricter since */
function readTrace(stored: StoredTrace): Trace {
  const reading = readStoredTrace(stored);
  if (!reading.ok) throw unreadableTrace(reading.faults);
  return reading.trace;
}

/** The parser hands the file over as bytes; a request without a body has none. */
function bytesOf(body: unknown): Buffer {
  return Buffer.isBuffer(body) ? body : Buffer.alloc(0);
}
