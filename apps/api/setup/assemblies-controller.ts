import { Body, Controller, Get, Param, Put, Query, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { NamePipe } from '../http/name-pipe.js';
import { type ListBody, PageQuery } from '../http/paging.js';
import { Caller, HOUSE, Roles } from '../identity/roles.js';
import { AssemblyBody, assemblyProblems } from './assembly-body.js';
import { DescribeHistory, DescribePut, DescribeRecord, DescribeRecords } from './setup-responses.js';
import { SetupDesk, type SetupRecord } from './setup-desk.js';

@ApiTags('setup')
@Roles(...HOUSE)
@Controller('v1/assemblies')
export class AssembliesController {
  constructor(private readonly desk: SetupDesk) {}

  @Put(':assembly')
  @Roles('quality', 'admin')
  @DescribePut(AssemblyBody)
  async putAssembly(
    @Param('assembly', NamePipe) assembly: string,
    @Body() body: AssemblyBody,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SetupRecord> {
    const { created, record } = await this.desk.put(
      'assembly',
      assembly,
      body,
      caller,
      assemblyProblems(assembly, body),
    );
    void reply.status(created ? 201 : 200);
    return record;
  }

  @Get(':assembly')
  @DescribeRecord(AssemblyBody)
  getAssembly(@Param('assembly') assembly: string): Promise<SetupRecord> {
    return this.desk.get('assembly', assembly);
  }

  @Get()
  @DescribeRecords(AssemblyBody)
  listAssemblies(@Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.list('assembly', query);
  }

  @Get(':assembly/revisions')
  @DescribeHistory(AssemblyBody)
  listAssemblyRevisions(
    @Param('assembly') assembly: string,
    @Query() query: PageQuery,
  ): Promise<ListBody<SetupRecord>> {
    return this.desk.history('assembly', assembly, query);
  }
}
