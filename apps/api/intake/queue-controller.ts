import { Controller, Get, Inject } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { HOUSE, Roles } from '../identity/roles.js';
import { Answers } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';

/** How far judging lags behind what stations posted. */
interface QueueAnswer {
  readonly pending: number;
  /** RFC 3339 UTC of the oldest arrival among them, or null. */
  readonly oldestPendingAt: string | null;
  readonly parked: number;
}

@ApiTags('events')
@Roles(...HOUSE)
@Controller('v1/queue')
export class QueueController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get()
  @Answers(200, 'Events that wait to be judged, and those that are parked, of all stations.', ref('Queue'))
  async getQueue(): Promise<QueueAnswer> {
    const { pending, oldestReceivedAt, parked } = await this.deps.reads.backlog();
    return { pending, oldestPendingAt: oldestReceivedAt, parked };
  }
}
