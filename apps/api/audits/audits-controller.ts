import { Readable } from 'node:stream';
import { Controller, Get, Inject, Param, Query, Req, Res } from '@nestjs/common';
import { ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { AuditFormat, auditFormats } from '../../../libs/evidence/audit-formats.js';
import type { AuditSource } from '../../../libs/ledger/audits/audit-source.js';
import { BrokenLedger } from '../../../libs/ledger/audits/broken-ledger.js';
import { openAudit } from '../../../libs/ledger/audits/open-audit.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import type { UnitReading } from '../../../libs/ledger/views/read-unit.js';
import { isCustomer, readsFor } from '../access/reads-for.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { notModified } from '../http/not-modified.js';
import { ProblemError } from '../http/problem.js';
import { Caller, PEOPLE, Roles } from '../identity/roles.js';
import { Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { UnitReader } from '../units/unit-reader.js';
import { AuditQuery } from './audit-query.js';
import { ExportTurns } from './export-turns.js';
import { sendAudit } from './send-audit.js';

@ApiTags('audits')
@Roles(...PEOPLE)
@Controller('v1/units/:assembly/:serial/audit')
export class AuditsController {
  private readonly formats: Partial<Record<string, AuditFormat>>;
  private readonly turns = new ExportTurns();

  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly units: UnitReader,
  ) {
    this.formats = auditFormats(deps);
  }

  @Get()
  @ApiResponse({
    status: 200,
    description:
      'The whole history of the unit, sent while it is written: a connection that breaks off has not given all of it. JSON is to be checked with heatbook verify. ETag is the head hash of the unit’s ledger.',
    content: {
      'application/json': { schema: ref('Audit') },
      'text/csv': { schema: { type: 'string' } },
      'application/pdf': { schema: { type: 'string', format: 'binary' } },
      'application/ld+json': { schema: { type: 'object' } },
    },
  })
  @ApiResponse({ status: 304, description: 'Nothing has been entered into the unit’s ledger since If-None-Match.' })
  @Problems('not-found', 'format-unavailable', 'invalid-query', 'too-many-exports', 'ledger-broken')
  async exportUnitAudit(
    @Param('assembly') assembly: string,
    @Param('serial') serial: string,
    @Query() { format: name = 'json', since = [] }: AuditQuery,
    @Caller() caller: Principal,
    @Req() request: FastifyRequest,
    @Res() reply: FastifyReply,
  ): Promise<void> {
    const format = this.formatOf(name);
    const reading = await this.units.read(readsFor(this.deps, caller), assembly, serial);
    const etag = `W/"${reading.record.headHash}"`;
    const headers = { etag, 'cache-control': 'private, no-cache', vary: 'Authorization, Cookie' };
    if (notModified(request.headers['if-none-match'], etag)) {
      void reply.status(304).headers(headers).send();
      return;
    }
    const told = { ...headers, ...fileHeaders(format, reading) };
    if (request.method === 'HEAD') {
      void reply.headers(told).send(Readable.from([]));
      return;
    }
    // Whoever left while the unit was read has been told of for the last time: nothing would end their turn.
    if (reply.raw.destroyed) {
      reply.hijack();
      return;
    }
    const gone = new AbortController();
    const end = this.turns.take(caller);
    reply.raw.once('close', () => {
      gone.abort();
      end();
    });
    try {
      const source = await this.open(reading, caller, since, gone.signal);
      await sendAudit(reply.headers(told), format, source, this.deps.log);
    } catch (error) {
      if (!gone.signal.aborted) throw asProblem(error, this.deps);
      // Nobody is there to be answered.
      reply.hijack();
    }
  }

  private formatOf(name: string): AuditFormat {
    // Every object has a member called constructor.
    const format = Object.hasOwn(this.formats, name) ? this.formats[name] : undefined;
    if (format !== undefined) return format;
    const known = Object.keys(this.formats).join(', ');
    throw new ProblemError('format-unavailable', `An audit comes as ${known}; ask for ?format=json.`);
  }

  private open(
    reading: UnitReading,
    caller: Principal,
    since: readonly number[],
    signal: AbortSignal,
  ): Promise<AuditSource> {
    const { traces, identity, siteLog, setup, clock } = this.deps;
    const deps = { reads: readsFor(this.deps, caller), traces, names: identity.names, siteLog, setup, clock };
    return openAudit(deps, reading, { for: isCustomer(caller) ? 'customer' : 'house', since, signal });
  }
}

function fileHeaders(format: AuditFormat, { state, record }: UnitReading): Record<string, string> {
  const name = `audit-${state.assembly}-${state.serial}-${record.headHash.slice(0, 12)}`.replaceAll(':', '_');
  return {
    'content-type': format.mediaType,
    'content-disposition': `attachment; filename="${name}${format.extension}"`,
  };
}

function asProblem(error: unknown, { log }: Pick<ApiDeps, 'log'>): unknown {
  if (!(error instanceof BrokenLedger)) return error;
  log.error('A ledger does not hold together.', { subject: error.subject, why: error.message });
  return new ProblemError('ledger-broken', error.message);
}
