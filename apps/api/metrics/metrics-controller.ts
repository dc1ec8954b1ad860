import { Controller, Get, Res } from '@nestjs/common';
import { ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Open } from '../identity/roles.js';
import { ApiMetrics } from './api-metrics.js';

@ApiTags('service')
@Open()
@Controller('metrics')
export class MetricsController {
  constructor(private readonly metrics: ApiMetrics) {}

  @Get()
  @ApiResponse({
    status: 200,
    description: 'Figures for Prometheus.',
    content: { 'text/plain': { schema: { type: 'string' } } },
  })
  async getMetrics(@Res({ passthrough: true }) reply: FastifyReply): Promise<string> {
    const text = await this.metrics.text();
    void reply.header('content-type', this.metrics.contentType);
    return text;
  }
}
