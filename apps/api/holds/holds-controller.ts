import { Body, Controller, Get, HttpCode, Inject, Param, Post, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { subjectKey } from '../../../libs/domain/subject/subject.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import type { HoldSummary } from '../../../libs/ledger/ports/read-store.js';
import { type HoldView, holdView } from '../../../libs/ledger/views/hold-view.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { type ListBody, listBody } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { Caller, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { explainHold, type ExplainedHold } from './explain-hold.js';
import { heldSubject, RaiseHoldBody, ReleaseHoldBody } from './hold-bodies.js';
import { holdFilter, HoldsQuery } from './hold-queries.js';

@ApiTags('holds')
@Roles('admin')
@Controller('v1/holds')
export class HoldsController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get()
  @Answers(200, 'Holds, oldest first.', pageOf(ref('Hold')))
  @Problems('invalid-query')
  listHolds(@Query() query: HoldsQuery): Promise<ListBody<HoldView>> {
    return listBody(query, (page) => this.deps.reads.holds(holdFilter(query), page), holdView);
  }

  @Get('summary')
  @Answers(200, 'Counts of the holds that match.', ref('HoldSummary'))
  @Problems('invalid-query')
  summariseHolds(@Query() query: HoldsQuery): Promise<HoldSummary> {
    return this.deps.reads.holdSummary(holdFilter(query), this.deps.clock.now());
  }

  @Get(':id')
  @Answers(200, 'The hold with everything that explains it.', ref('ExplainedHold'))
  @Problems('not-found')
  async getHold(@Param('id') id: string): Promise<ExplainedHold> {
    const hold = isHoldId(id) ? await this.deps.reads.holdById(id) : undefined;
    if (hold === undefined) throw unknownHold(id);
    return explainHold(this.deps.reads, hold);
  }

  @Post()
  @Answers(201, 'The hold.', ref('Hold'))
  @Problems('unreadable-json', 'not-found', 'invalid-body')
  async raiseHold(@Body() body: RaiseHoldBody, @Caller() caller: Principal): Promise<HoldView> {
    const subject = heldSubject(body);
    const hold = await this.deps.holds.raise({ subject, note: body.note, by: caller.name });
    if (hold !== 'unknown-subject') return holdView(hold);
    throw new ProblemError(
      'not-found',
      `The book knows no ${subject.kind} ${subjectKey(subject)}; a hold can be put on what it knows.`,
    );
  }

  @Post(':id/release')
  @HttpCode(200)
  @Answers(200, 'The hold, released.', ref('Hold'))
  @Problems('unreadable-json', 'not-found', 'hold-not-open', 'invalid-body')
  async releaseHold(
    @Param('id') id: string,
    @Body() { note }: ReleaseHoldBody,
    @Caller() caller: Principal,
  ): Promise<HoldView> {
    const released = isHoldId(id) ? await this.deps.holds.release({ id, note, by: caller.name }) : 'not-found';
    if (released === 'not-found') throw unknownHold(id);
    if (released === 'not-open') {
      throw new ProblemError('hold-not-open', `Hold ${id} is released or withdrawn already; GET it to see by whom.`);
    }
    return holdView(released);
  }
}

/** Holds are named by UUIDs in lower case; nothing else needs to be looked up. */
function isHoldId(id: string): boolean {
  return /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/.test(id);
}

function unknownHold(id: string): ProblemError {
  return new ProblemError('not-found', `There is no hold ${id}; GET /v1/holds lists them.`);
}
