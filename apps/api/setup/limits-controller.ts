import { Body, Controller, Get, HttpCode, Inject, Param, Post, Put, Query, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { type WhatIf, whatIf } from '../../../libs/ledger/limits/what-if.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { NamePipe } from '../http/name-pipe.js';
import { type ListBody, listBody, pageOfAll, PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { Caller, HOUSE, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { record, ref } from '../openapi/schema-parts.js';
import { LimitBody, limitProblems } from './limit-body.js';
import { type LimitRecord, type RecheckBody, recheckBody, withRecheck } from './limit-rechecks.js';
import { DescribeHistory, DescribePut, DescribeRecord, DescribeRecords } from './setup-responses.js';
import { SetupDesk } from './setup-desk.js';

/** What answers about limits say besides the revision. */
const RECHECK = record({ recheck: ref('LimitRecheck') });

@ApiTags('setup')
@Roles(...HOUSE)
@Controller('v1/limits')
export class LimitsController {
  constructor(
    private readonly desk: SetupDesk,
    @Inject(API_DEPS) private readonly deps: ApiDeps,
  ) {}

  @Put(':limit')
  @Roles('quality', 'admin')
  @DescribePut(LimitBody, RECHECK)
  async putLimit(
    @Param('limit', NamePipe) limit: string,
    @Body() body: LimitBody,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<LimitRecord> {
    const known = await this.desk.newest('limit', limit);
    const problems = limitProblems(body, known?.kind);
    const { created, record: revised } = await this.desk.put('limit', limit, body, caller, problems);
    await this.wakeRecheck();
    void reply.status(created ? 201 : 200);
    return withRecheck(revised, await this.deps.reads.limitRechecks(limit));
  }

  @Post(':limit/what-if')
  @HttpCode(200)
  @Roles('quality', 'admin')
  @Answers(200, 'How what is in the house would stand; nothing is changed.', ref('WhatIf'))
  @Problems('unreadable-json', 'invalid-body', 'invalid-name', 'too-large', 'unknown-media-type')
  async whatIfLimit(@Param('limit', NamePipe) limit: string, @Body() body: LimitBody): Promise<WhatIf> {
    const known = await this.desk.newest('limit', limit);
    const problems = limitProblems(body, known?.kind);
    const [first] = problems;
    if (first !== undefined) {
      throw new ProblemError('invalid-body', `${first.pointer} ${first.detail}.`, { errors: problems });
    }
    return whatIf(this.deps, limit, body);
  }

  @Get(':limit')
  @DescribeRecord(LimitBody, RECHECK)
  async getLimit(@Param('limit') limit: string): Promise<LimitRecord> {
    return withRecheck(await this.desk.get('limit', limit), await this.deps.reads.limitRechecks(limit));
  }

  @Get()
  @DescribeRecords(LimitBody, RECHECK)
  async listLimits(@Query() query: PageQuery): Promise<ListBody<LimitRecord>> {
    const { items, nextCursor } = await this.desk.list('limit', query);
    const rechecks = await this.deps.reads.limitRechecks();
    return { items: items.map((item) => withRecheck(item, rechecks)), nextCursor };
  }

  @Get(':limit/revisions')
  @DescribeHistory(LimitBody, RECHECK)
  async listLimitRevisions(@Param('limit') limit: string, @Query() query: PageQuery): Promise<ListBody<LimitRecord>> {
    const { items, nextCursor } = await this.desk.history('limit', limit, query);
    const rechecks = await this.deps.reads.limitRechecks(limit);
    return { items: items.map((item) => withRecheck(item, rechecks)), nextCursor };
  }

  @Get(':limit/rechecks')
  @Answers(200, 'What became of judging anew, newest revision first.', pageOf(ref('LimitRecheck')))
  @Problems('not-found', 'invalid-query')
  async listLimitRechecks(@Param('limit') limit: string, @Query() query: PageQuery): Promise<ListBody<RecheckBody>> {
    await this.desk.get('limit', limit);
    const all = await this.deps.reads.limitRechecks(limit);
    return listBody(query, (page) => pageOfAll(all, ({ revision }) => String(revision), page), recheckBody);
  }

  /** The timer comes to it as well, only later. */
  private async wakeRecheck(): Promise<void> {
    const name = 'recheck-limits' as const;
    try {
      await this.deps.queue.addMany([{ name, payload: {}, options: { dedupeKey: name } }]);
    } catch (error) {
      this.deps.log.warn('no wake-up for a revised limit', { error: String(error) });
    }
  }
}
