import { Body, Controller, Get, Param, Put, Query, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { NamePipe } from '../http/name-pipe.js';
import { type ListBody, PageQuery } from '../http/paging.js';
import { Caller, HOUSE, Roles } from '../identity/roles.js';
import { CopperRateBody, copperRateProblems } from './copper-rate-body.js';
import { DescribeHistory, DescribePut, DescribeRecord, DescribeRecords } from './setup-responses.js';
import { SetupDesk, type SetupRecord } from './setup-desk.js';

@ApiTags('setup')
@Roles(...HOUSE)
@Controller('v1/copper-rates')
export class CopperRatesController {
  constructor(private readonly desk: SetupDesk) {}

  @Put(':alloy')
  @Roles('quality', 'admin')
  @DescribePut(CopperRateBody)
  async putCopperRate(
    @Param('alloy', NamePipe) alloy: string,
    @Body() body: CopperRateBody,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SetupRecord> {
    const { created, record } = await this.desk.put('copper-rate', alloy, body, caller, copperRateProblems(alloy));
    void reply.status(created ? 201 : 200);
    return record;
  }

  @Get(':alloy')
  @DescribeRecord(CopperRateBody)
  getCopperRate(@Param('alloy') alloy: string): Promise<SetupRecord> {
    return this.desk.get('copper-rate', alloy);
  }

  @Get()
  @DescribeRecords(CopperRateBody)
  listCopperRates(@Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.list('copper-rate', query);
  }

  @Get(':alloy/revisions')
  @DescribeHistory(CopperRateBody)
  listCopperRateRevisions(@Param('alloy') alloy: string, @Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.history('copper-rate', alloy, query);
  }
}
