import { Body, Controller, Get, Inject, Param, Put, Query, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import type { DueUnit, RetentionTerm } from '../../../libs/ledger/retention/due-unit.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { type ListBody, listBody, PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { Caller, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { SetupDesk, type SetupRecord } from '../setup/setup-desk.js';
import { DescribeHistory, DescribePut, DescribeRecord, DescribeRecords } from '../setup/setup-responses.js';
import { DueQuery, RetentionBody } from './retention-body.js';

/** Names that cannot be a customer here: another address, and what the house itself is to the database. */
const NO_CUSTOMERS = ['due', '*'];
/** As long as a part of an address may be. */
const LONGEST_CUSTOMER = 194;

/** How long what was done is kept, by customer, and what has been kept long enough. */
@ApiTags('retention')
@Roles('quality', 'approver', 'auditor', 'admin')
@Controller('v1/retentions')
export class RetentionsController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly desk: SetupDesk,
  ) {}

  @Put(':customer')
  @Roles('quality', 'admin')
  @DescribePut(RetentionBody)
  async putRetention(
    @Param('customer') customer: string,
    @Body() body: RetentionBody,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SetupRecord> {
    if (NO_CUSTOMERS.includes(customer) || customer.trim() === '' || customer.length > LONGEST_CUSTOMER) {
      throw new ProblemError('invalid-name', `Send the name of a customer as assemblies have it; ${customer} is none.`);
    }
    const { created, record } = await this.desk.put('retention', customer, body, caller);
    void reply.status(created ? 201 : 200);
    return record;
  }

  @Get()
  @DescribeRecords(RetentionBody)
  listRetentions(@Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.list('retention', query);
  }

  @Get('due')
  @Answers(
    200,
    'Units that were kept for as long as agreed and that no legal hold is over, by key.',
    pageOf(ref('DueUnit')),
  )
  @Problems('invalid-query')
  async listDue(@Query() query: DueQuery): Promise<ListBody<DueUnit>> {
    const { customer, before = this.deps.clock.now() } = query;
    const terms = (await this.terms()).filter((term) => customer === undefined || term.customer === customer);
    return listBody(
      query,
      (page) => this.deps.retention.due({ terms, before }, page),
      (unit) => unit,
    );
  }

  @Get(':customer')
  @DescribeRecord(RetentionBody)
  getRetention(@Param('customer') customer: string): Promise<SetupRecord> {
    return this.desk.get('retention', customer);
  }

  @Get(':customer/revisions')
  @DescribeHistory(RetentionBody)
  listRetentionRevisions(
    @Param('customer') customer: string,
    @Query() query: PageQuery,
  ): Promise<ListBody<SetupRecord>> {
    return this.desk.history('retention', customer, query);
  }

  /** Customers without one are kept for ever, as are those whose record names no years. */
  private async terms(): Promise<RetentionTerm[]> {
    await this.deps.setup.catchUp();
    return this.deps.setup.all('retention').flatMap((revision) => {
      const keepYears = revision.kind === 'retention' ? revision.body.keepYears : undefined;
      return keepYears === undefined ? [] : [{ customer: revision.name, keepYears }];
    });
  }
}
