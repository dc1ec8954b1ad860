import { Controller, Get, Inject, Param, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { unknownHold } from '../../../libs/ledger/holds/work-on-hold.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import type { HoldFilter, HoldSummary } from '../../../libs/ledger/ports/read-store.js';
import { withNames } from '../../../libs/ledger/signing/with-names.js';
import type { DeskEye } from '../../../libs/ledger/views/desk-hold-view.js';
import { readsFor } from '../access/reads-for.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { type ListBody, listBody } from '../http/paging.js';
import { Caller, PEOPLE, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { done } from './done.js';
import { type ExplainedHold, HoldExplainer } from './hold-explainer.js';
import { holdFilter, HoldListQuery, HoldsQuery, isHoldId } from './hold-queries.js';
import { isOfTheHouse, type SeenHold, seenHold, seenSummary } from './seen-hold.js';

/** Holds as they are read; what is done about them is the desk's. */
@ApiTags('holds')
@Roles(...PEOPLE)
@Controller('v1/holds')
export class HoldsController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly explainer: HoldExplainer,
  ) {}

  @Get()
  @Answers(200, 'Holds, in the order asked for.', pageOf(ref('Hold')))
  @Problems('invalid-query')
  async listHolds(@Query() query: HoldListQuery, @Caller() caller: Principal): Promise<ListBody<SeenHold>> {
    const eye = this.eye(caller);
    const filter = this.filter(query, eye);
    const page = await listBody(
      query,
      (request) => readsFor(this.deps, caller).holds(filter, request, query.order),
      (hold) => seenHold(hold, eye),
    );
    return withNames(this.deps.identity.names, page);
  }

  @Get('summary')
  @Answers(200, 'Counts of the open holds that match.', ref('HoldSummary'))
  @Problems('invalid-query')
  async summariseHolds(@Query() query: HoldsQuery, @Caller() caller: Principal): Promise<HoldSummary> {
    const eye = this.eye(caller);
    return seenSummary(await readsFor(this.deps, caller).holdSummary(this.filter(query, eye), eye.now), caller);
  }

  @Get(':id')
  @Answers(200, 'The hold with everything that explains it.', ref('ExplainedHold'))
  @Problems('not-found')
  async getHold(@Param('id') id: string, @Caller() caller: Principal): Promise<ExplainedHold> {
    const hold = isHoldId(id) ? await readsFor(this.deps, caller).holdById(id) : undefined;
    const explained = await this.explainer.explain(hold ?? done<never>(unknownHold(id)), this.eye(caller));
    return withNames(this.deps.identity.names, explained);
  }

  private eye(caller: Principal): DeskEye {
    return { caller, now: this.deps.clock.now(), seal: this.deps.book.seal };
  }

  /** Who works on a hold and by when is nothing that a customer can ask by. */
  private filter(query: HoldsQuery, { caller, now }: DeskEye): HoldFilter {
    const { assignee, dueBefore, ...open } = holdFilter(query, now);
    if (!isOfTheHouse(caller)) return open;
    return { ...open, ...(assignee !== undefined && { assignee }), ...(dueBefore !== undefined && { dueBefore }) };
  }
}
