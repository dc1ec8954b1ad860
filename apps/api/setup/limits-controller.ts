import { Body, Controller, Get, Param, Put, Query, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { NamePipe } from '../http/name-pipe.js';
import { type ListBody, PageQuery } from '../http/paging.js';
import { Caller, Roles } from '../identity/roles.js';
import { LimitBody, limitProblems } from './limit-body.js';
import { DescribeHistory, DescribePut, DescribeRecord, DescribeRecords } from './setup-responses.js';
import { SetupDesk, type SetupRecord } from './setup-desk.js';

@ApiTags('setup')
@Roles('admin')
@Controller('v1/limits')
export class LimitsController {
  constructor(private readonly desk: SetupDesk) {}

  @Put(':limit')
  @DescribePut(LimitBody)
  async putLimit(
    @Param('limit', NamePipe) limit: string,
    @Body() body: LimitBody,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SetupRecord> {
    const known = await this.desk.newest('limit', limit);
    const { created, record } = await this.desk.put('limit', limit, body, caller, limitProblems(body, known?.kind));
    void reply.status(created ? 201 : 200);
    return record;
  }

  @Get(':limit')
  @DescribeRecord(LimitBody)
  getLimit(@Param('limit') limit: string): Promise<SetupRecord> {
    return this.desk.get('limit', limit);
  }

  @Get()
  @DescribeRecords(LimitBody)
  listLimits(@Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.list('limit', query);
  }

  @Get(':limit/revisions')
  @DescribeHistory(LimitBody)
  listLimitRevisions(@Param('limit') limit: string, @Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.history('limit', limit, query);
  }
}
