import { Body, Controller, Get, Param, Put, Query, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { NamePipe } from '../http/name-pipe.js';
import { type ListBody, PageQuery } from '../http/paging.js';
import { Caller, HOUSE, Roles } from '../identity/roles.js';
import { OperatorBody } from './operator-body.js';
import { DescribeHistory, DescribePut, DescribeRecord, DescribeRecords } from './setup-responses.js';
import { SetupDesk, type SetupRecord } from './setup-desk.js';

@ApiTags('setup')
@Roles(...HOUSE)
@Controller('v1/operators')
export class OperatorsController {
  constructor(private readonly desk: SetupDesk) {}

  @Put(':operator')
  @Roles('quality', 'admin')
  @DescribePut(OperatorBody)
  async putOperator(
    @Param('operator', NamePipe) operator: string,
    @Body() body: OperatorBody,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SetupRecord> {
    const { created, record } = await this.desk.put('operator', operator, body, caller);
    void reply.status(created ? 201 : 200);
    return record;
  }

  @Get(':operator')
  @DescribeRecord(OperatorBody)
  getOperator(@Param('operator') operator: string): Promise<SetupRecord> {
    return this.desk.get('operator', operator);
  }

  @Get()
  @DescribeRecords(OperatorBody)
  listOperators(@Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.list('operator', query);
  }

  @Get(':operator/revisions')
  @DescribeHistory(OperatorBody)
  listOperatorRevisions(
    @Param('operator') operator: string,
    @Query() query: PageQuery,
  ): Promise<ListBody<SetupRecord>> {
    return this.desk.history('operator', operator, query);
  }
}
