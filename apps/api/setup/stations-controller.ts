import { Body, Controller, Get, Param, Put, Query, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { hasRole, type Principal } from '../../../libs/ledger/identity/principal.js';
import { NamePipe } from '../http/name-pipe.js';
import { type ListBody, PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { Caller, HOUSE, Roles } from '../identity/roles.js';
import { StationBody } from './station-body.js';
import { DescribeHistory, DescribePut, DescribeRecord, DescribeRecords } from './setup-responses.js';
import { SetupDesk, type SetupRecord } from './setup-desk.js';

@ApiTags('setup')
@Roles(...HOUSE)
@Controller('v1/stations')
export class StationsController {
  constructor(private readonly desk: SetupDesk) {}

  @Put(':station')
  @Roles('quality', 'admin')
  @DescribePut(StationBody)
  async putStation(
    @Param('station', NamePipe) station: string,
    @Body() body: StationBody,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SetupRecord> {
    const { created, record } = await this.desk.put('station', station, body, caller);
    void reply.status(created ? 201 : 200);
    return record;
  }

  @Get(':station')
  @Roles('station', ...HOUSE)
  @DescribeRecord(StationBody)
  getStation(@Param('station') station: string, @Caller() caller: Principal): Promise<SetupRecord> {
    if (hasRole(caller, 'station') && caller.name !== station) {
      throw new ProblemError('not-allowed', `A station may read its own record: GET /v1/stations/${caller.name}.`);
    }
    return this.desk.get('station', station);
  }

  @Get()
  @DescribeRecords(StationBody)
  listStations(@Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.list('station', query);
  }

  @Get(':station/revisions')
  @DescribeHistory(StationBody)
  listStationRevisions(@Param('station') station: string, @Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.history('station', station, query);
  }
}
