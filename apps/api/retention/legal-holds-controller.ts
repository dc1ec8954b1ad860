import { Body, Controller, Get, HttpCode, Inject, Param, Post, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import type { LegalHold } from '../../../libs/ledger/retention/legal-hold.js';
import { liftLegalHold } from '../../../libs/ledger/retention/lift-legal-hold.js';
import { type LegalHoldDeps, setLegalHold } from '../../../libs/ledger/retention/set-legal-hold.js';
import { withNames } from '../../../libs/ledger/signing/with-names.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { done } from '../holds/done.js';
import { type ListBody, listBody } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { Caller, Roles } from '../identity/roles.js';
import { SigningDesk } from '../identity/signing-desk.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { LegalHoldBody, LegalHoldsQuery, LiftBody, scopeIn } from './legal-hold-bodies.js';

/** A legal hold as routes answer it. */
type LegalHoldView = LegalHold & { readonly state: 'in-force' | 'lifted' };

/** What may not be removed while a legal matter is open. */
@ApiTags('retention')
@Roles('quality', 'approver', 'auditor', 'admin')
@Controller('v1/legal-holds')
export class LegalHoldsController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly signing: SigningDesk,
  ) {}

  @Post()
  @Roles('approver')
  @Answers(201, 'The legal hold, in force from now on.', ref('LegalHold'))
  @Problems('unreadable-json', 'signature-required', 'wrong-password', 'not-found', 'invalid-body', 'too-many-attempts')
  async setLegalHold(@Body() body: LegalHoldBody, @Caller() caller: Principal): Promise<LegalHoldView> {
    const { reference, note, signature } = body;
    const scope = scopeIn(body.scope);
    const signer = await this.signing.signer(caller, signature);
    return this.seen(done(await setLegalHold(this.desk, { scope, reference, note, signer })));
  }

  @Get()
  @Answers(200, 'Legal holds, newest first; those that were lifted too.', pageOf(ref('LegalHold')))
  @Problems('invalid-query')
  async listLegalHolds(@Query() query: LegalHoldsQuery): Promise<ListBody<LegalHoldView>> {
    const page = await listBody(query, (request) => this.deps.retention.legalHolds(query.state, request), viewOf);
    return withNames(this.deps.identity.names, page);
  }

  @Get(':id')
  @Answers(200, 'The legal hold.', ref('LegalHold'))
  @Problems('not-found')
  async getLegalHold(@Param('id') id: string): Promise<LegalHoldView> {
    const found = await this.deps.retention.legalHold(id);
    if (found !== undefined) return this.seen(found);
    throw new ProblemError('not-found', `There is no legal hold ${id}; GET /v1/legal-holds lists them.`);
  }

  @Post(':id/lift')
  @HttpCode(200)
  @Roles('approver')
  @Answers(200, 'The legal hold, lifted. It takes somebody else than whoever set it.', ref('LegalHold'))
  @Problems('unreadable-json', 'signature-required', 'wrong-password', 'not-found', 'two-people-needed')
  @Problems('legal-hold-lifted', 'invalid-body', 'too-many-attempts')
  async liftLegalHold(
    @Param('id') id: string,
    @Body() { note, signature }: LiftBody,
    @Caller() caller: Principal,
  ): Promise<LegalHoldView> {
    const signer = await this.signing.signer(caller, signature);
    return this.seen(done(await liftLegalHold(this.desk, { id, note, signer })));
  }

  private get desk(): LegalHoldDeps {
    const { retention, setup, reads, clock, book } = this.deps;
    return { retention, setup, reads, clock, seal: book.seal, newId: () => book.newId() };
  }

  private seen(hold: LegalHold): Promise<LegalHoldView> {
    return withNames(this.deps.identity.names, viewOf(hold));
  }
}

function viewOf(hold: LegalHold): LegalHoldView {
  return { ...hold, state: hold.lift === null ? 'in-force' : 'lifted' };
}
