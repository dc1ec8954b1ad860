import { Body, Controller, Get, HttpCode, Inject, Post, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { IsIn } from 'class-validator';
import { ParkedRow } from '../../../libs/ledger/ports/read-store.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { Field, TextField } from '../http/fields.js';
import { type ListBody, listBody, PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { HOUSE, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';

export class RetryBody {
  @TextField({ optional: true, max: 200, description: '/stations/{station} of one parked event, with its id.' })
  readonly source?: string;

  @TextField({ optional: true, max: 200 })
  readonly id?: string;

  @Field({ optional: true }, { type: Boolean, enum: [true], description: 'Retry every parked event.' }, IsIn([true]))
  readonly all?: boolean;
}

/** Events that the fold could not apply: what is the matter with each, and another try once that is mended. */
@ApiTags('events')
@Roles(...HOUSE)
@Controller('v1/events')
export class ParkedEventsController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get('parked')
  @Answers(200, 'Parked events, oldest first.', pageOf(ref('ParkedEvent')))
  @Problems('invalid-query')
  listParkedEvents(@Query() query: PageQuery): Promise<ListBody<ParkedRow>> {
    return listBody(
      query,
      (page) => this.deps.reads.parked(page),
      (row) => row,
    );
  }

  @Post('retries')
  @Roles('quality', 'admin')
  @HttpCode(200)
  @Answers(200, 'How many events are tried again.', ref('Retried'))
  @Problems('unreadable-json', 'invalid-body')
  async retryParkedEvents(@Body() body: RetryBody): Promise<{ retried: number }> {
    const { count, shards } = await this.deps.parking.unpark(wanted(body));
    await this.wake(shards);
    return { retried: count };
  }

  private async wake(shards: readonly number[]): Promise<void> {
    if (shards.length === 0) return;
    try {
      await this.deps.queue.addMany(
        shards.map((shard) => ({ name: 'fold-shard', payload: { shard }, options: { dedupeKey: String(shard) } })),
      );
    } catch (error) {
      // The events are pending all the same; the sweeper finds them.
      this.deps.log.warn('The job carrier is away; retried events wait for the sweeper.', { error: String(error) });
    }
  }
}

/** One event, or undefined for all of them. */
function wanted({ source, id, all }: RetryBody): { source: string; id: string } | undefined {
  if (all === true && source === undefined && id === undefined) return undefined;
  if (all === undefined && source !== undefined && id !== undefined) return { source, id };
  throw new ProblemError('invalid-body', 'Send either source and id of one parked event, or all: true.', {
    errors: [{ pointer: '', detail: 'must have either source and id, or all: true' }],
  });
}
