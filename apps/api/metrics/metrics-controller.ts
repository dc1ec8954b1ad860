import { Controller, Get, Inject, Res } from '@nestjs/common';
import { ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { Open } from '../identity/roles.js';
import { ApiMetrics } from './api-metrics.js';

@ApiTags('service')
@Open()
@Controller('metrics')
export class MetricsController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly own: ApiMetrics,
  ) {}

  @Get()
  @ApiResponse({
    status: 200,
    description: 'Figures for Prometheus.',
    content: { 'text/plain': { schema: { type: 'string' } } },
  })
  async getMetrics(@Res({ passthrough: true }) reply: FastifyReply): Promise<string> {
    const { figures } = this.deps;
    const text = await figures.text(this.own.registry);
    void reply.header('content-type', figures.contentType);
    return text;
  }
}
