import { Body, Controller, Delete, Get, Headers, HttpCode, Inject, Param, Post, Query, Req } from '@nestjs/common';
import { ApiHeader, ApiTags } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { ClearanceRecord } from '../../../libs/ledger/clearances/clearance-record.js';
import { grantClearance } from '../../../libs/ledger/clearances/grant-clearance.js';
import { returnClearance } from '../../../libs/ledger/clearances/return-clearance.js';
import { hasRole, type Principal } from '../../../libs/ledger/identity/principal.js';
import { type KeyedRequest } from '../../../libs/ledger/ports/clearance-store.js';
import { type ClearanceView, clearanceView } from '../../../libs/ledger/views/clearance-view.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { given } from '../http/given.js';
import { type ListBody, listBody } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { inRequestSpan } from '../http/request-traces.js';
import { Caller, HOUSE, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { ClearanceBody, ClearancesQuery } from './clearance-bodies.js';
import { clearanceRefused } from './clearance-refused.js';
import { readWish } from './read-wish.js';

/** The gate: permission for planned steps, before anything is hot. */
@ApiTags('clearances')
@Controller('v1/clearances')
export class ClearancesController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Post()
  @Roles('station', 'operator', 'quality', 'admin')
  @ApiHeader({
    name: 'Idempotency-Key',
    required: false,
    description: 'At most 128 characters. The same request under the same key is answered as it was the first time.',
  })
  @Answers(201, 'Granted: what the steps will spend is reserved.', ref('Clearance'))
  @Problems('unreadable-json', 'bad-request', 'clearance-refused', 'idempotency-key-reused', 'invalid-body')
  async requestClearance(
    @Body() body: ClearanceBody,
    @Caller() caller: Principal,
    @Req() incoming: FastifyRequest,
    @Headers('Idempotency-Key') key?: string,
  ): Promise<ClearanceView> {
    const wish = readWish(body, caller);
    const request = key === undefined ? undefined : this.keyed(key, caller, wish);
    const answer = await inRequestSpan(incoming, this.deps.tracer, 'grant clearance', () =>
      grantClearance(this.deps.book, { ...wish, ...(request && { request }) }),
    );
    if (answer === 'other-body') {
      throw new ProblemError(
        'idempotency-key-reused',
        'This Idempotency-Key came with another request before: send each request under a key of its own.',
      );
    }
    if ('refused' in answer) throw clearanceRefused(answer.refused);
    return clearanceView(answer.granted, answer.granted.grantedAt);
  }

  @Get()
  @Roles(...HOUSE, 'station')
  @Answers(200, 'Clearances, newest first; a station sees its own.', pageOf(ref('Clearance')))
  @Problems('invalid-query')
  listClearances(@Query() query: ClearancesQuery, @Caller() caller: Principal): Promise<ListBody<ClearanceView>> {
    const { assembly, serial, device, state } = query;
    const station = hasRole(caller, 'station') ? caller.name : undefined;
    const now = this.deps.clock.now();
    return listBody(
      query,
      (page) => this.deps.reads.clearanceList(given({ assembly, serial, device, state, station }), now, page),
      (record) => clearanceView(record, now),
    );
  }

  @Get(':id')
  @Roles(...HOUSE, 'station')
  @Answers(200, 'The clearance.', ref('Clearance'))
  @Problems('not-found')
  async getClearance(@Param('id') id: string, @Caller() caller: Principal): Promise<ClearanceView> {
    return clearanceView(await this.seen(id, caller), this.deps.clock.now());
  }

  @Delete(':id')
  @HttpCode(204)
  @Roles('station', 'operator', 'quality', 'admin')
  @Answers(204, 'Given back, or over already: it holds nothing back any more.', {})
  @Problems('not-found', 'clearance-used')
  async returnClearance(@Param('id') id: string, @Caller() caller: Principal): Promise<void> {
    const { subject, grantedTo } = await this.seen(id, caller);
    if (grantedTo !== caller.name && !hasRole(caller, 'quality', 'admin')) {
      throw new ProblemError('not-allowed', `It was granted to ${grantedTo}, who can give it back; so can quality.`);
    }
    const actor = { kind: hasRole(caller, 'station') ? ('station' as const) : ('person' as const), name: caller.name };
    const returned = await returnClearance(this.deps.book, { id, subject, actor });
    if (returned === 'not-found') throw unknownClearance(id);
    if (returned === 'all-used') {
      throw new ProblemError('clearance-used', `Every step of clearance ${id} was done: nothing is left to give back.`);
    }
  }

  /** @throws ProblemError not-found, also for a station that asks for another's */
  private async seen(id: string, caller: Principal): Promise<ClearanceRecord> {
    const record = await this.deps.reads.clearance(id);
    const isForeign = hasRole(caller, 'station') && record?.station !== caller.name;
    if (record === undefined || isForeign) throw unknownClearance(id);
    return record;
  }

  private keyed(key: string, caller: Principal, wish: object): KeyedRequest {
    if (!/^[\x20-\x7e]{1,128}$/.test(key)) {
      throw new ProblemError('bad-request', 'Idempotency-Key must be 1 to 128 printable ASCII characters.');
    }
    const { seal } = this.deps.book;
    return { caller: `${caller.via} ${caller.name}`, key, bodyHash: seal.sha256Hex(seal.canonical(wish)) };
  }
}

function unknownClearance(id: string): ProblemError {
  return new ProblemError('not-found', `There is no clearance ${id}; GET /v1/clearances lists them.`);
}
