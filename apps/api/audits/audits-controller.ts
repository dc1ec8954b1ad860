import { Controller, Get, Inject, Param, Query, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import type { AuditDocument } from '../../../libs/evidence/audit-document.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { readsFor } from '../access/reads-for.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { TextField } from '../http/fields.js';
import { ProblemError } from '../http/problem.js';
import { Caller, PEOPLE, Roles } from '../identity/roles.js';
import { Answers, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { UnitReader } from '../units/unit-reader.js';
import { unitAudit } from './unit-audit.js';

const FORMATS = ['json'];

export class AuditQuery {
  @TextField({ optional: true, max: 20, description: `One of ${FORMATS.join(', ')}; json unless told.` })
  readonly format?: string;
}

@ApiTags('audits')
@Roles(...PEOPLE)
@Controller('v1/units/:assembly/:serial/audit')
export class AuditsController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly units: UnitReader,
  ) {}

  @Get()
  @Answers(200, 'The whole history of the unit, to be checked with heatbook verify.', ref('Audit'))
  @Problems('not-found', 'format-unavailable', 'invalid-query')
  async exportUnitAudit(
    @Param('assembly') assembly: string,
    @Param('serial') serial: string,
    @Query() { format = 'json' }: AuditQuery,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<AuditDocument> {
    if (!FORMATS.includes(format)) {
      throw new ProblemError('format-unavailable', `An audit comes as ${FORMATS.join(' or ')}; ask for ?format=json.`);
    }
    const document = await unitAudit(
      this.deps,
      await this.units.read(readsFor(this.deps, caller), assembly, serial),
      caller,
    );
    const fileName = `audit-${assembly}-${serial}.json`.replaceAll(':', '_');
    void reply.header('content-disposition', `attachment; filename="${fileName}"`);
    return document;
  }
}
