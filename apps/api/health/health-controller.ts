import { Controller, Get, Inject, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { type Readiness, readinessOf } from '../../house/readiness.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { Open } from '../identity/roles.js';
import { Answers } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';

@ApiTags('service')
@Open()
@Controller('health')
export class HealthController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get('live')
  @Answers(200, 'The process answers.', ref('Live'))
  getLive(): { ok: true } {
    return { ok: true };
  }

  @Get('ready')
  @Answers(200, 'It can do its work.', ref('Readiness'))
  @Answers(503, 'Something that it needs is away; checks says what.', ref('Readiness'))
  async getReady(@Res({ passthrough: true }) reply: FastifyReply): Promise<Readiness> {
    const readiness = await readinessOf(() => this.deps.ready(), this.deps.log);
    void reply.status(readiness.ok ? 200 : 503).header('cache-control', 'no-store');
    return readiness;
  }
}
