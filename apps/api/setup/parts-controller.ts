import { Body, Controller, Get, Param, Put, Query, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { NamePipe } from '../http/name-pipe.js';
import { type ListBody, PageQuery } from '../http/paging.js';
import { Caller, HOUSE, Roles } from '../identity/roles.js';
import { type Classification, classification } from '../../../libs/ledger/views/classification.js';
import { Answers, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { PartBody } from './part-body.js';
import { DescribeHistory, DescribePut, DescribeRecord, DescribeRecords } from './setup-responses.js';
import { SetupDesk, type SetupRecord } from './setup-desk.js';

@ApiTags('setup')
@Roles(...HOUSE)
@Controller('v1/parts')
export class PartsController {
  constructor(private readonly desk: SetupDesk) {}

  @Put(':part')
  @Roles('quality', 'admin')
  @DescribePut(PartBody)
  async putPart(
    @Param('part', NamePipe) part: string,
    @Body() body: PartBody,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SetupRecord> {
    const { created, record } = await this.desk.put('part', part, body, caller);
    void reply.status(created ? 201 : 200);
    return record;
  }

  @Get(':part')
  @Roles('station', ...HOUSE)
  @DescribeRecord(PartBody)
  getPart(@Param('part') part: string): Promise<SetupRecord> {
    return this.desk.get('part', part);
  }

  @Get()
  @Roles('station', ...HOUSE)
  @DescribeRecords(PartBody)
  listParts(@Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.list('part', query);
  }

  @Get(':part/classification')
  @Roles('station', ...HOUSE)
  @Answers(
    200,
    'Class temperature, floor life and profile figures of the part, for information.',
    ref('Classification'),
  )
  @Problems('not-found')
  async classifyPart(@Param('part') part: string): Promise<Classification> {
    return classification(await this.desk.existing('part', part));
  }

  @Get(':part/revisions')
  @DescribeHistory(PartBody)
  listPartRevisions(@Param('part') part: string, @Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.history('part', part, query);
  }
}
