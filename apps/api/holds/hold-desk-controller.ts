import { Body, Controller, Headers, HttpCode, Inject, Param, Post, Put } from '@nestjs/common';
import { ApiHeader, ApiTags } from '@nestjs/swagger';
import { assignHold, assignHolds } from '../../../libs/ledger/holds/assign-holds.js';
import { commentHold } from '../../../libs/ledger/holds/comment-hold.js';
import { disposeHold } from '../../../libs/ledger/holds/dispose-hold.js';
import type { HoldRecord } from '../../../libs/ledger/holds/hold-record.js';
import { raiseHold } from '../../../libs/ledger/holds/raise-hold.js';
import { releaseHold } from '../../../libs/ledger/holds/release-hold.js';
import { unknownHold } from '../../../libs/ledger/holds/work-on-hold.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { withNames } from '../../../libs/ledger/signing/with-names.js';
import { type DeskHoldView, deskHoldView } from '../../../libs/ledger/views/desk-hold-view.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { given } from '../http/given.js';
import { Caller, Roles } from '../identity/roles.js';
import { SigningDesk } from '../identity/signing-desk.js';
import { Answers, Problems } from '../openapi/describe.js';
import { list, record, ref } from '../openapi/schema-parts.js';
import { done } from './done.js';
import { fitAssignee } from './fit-assignee.js';
import { AssignmentBody, AssignmentsBody, CommentBody, DisposeHoldBody, ReleaseHoldBody } from './hold-bodies.js';
import { isHoldId } from './hold-queries.js';
import { ifMatch } from './if-match.js';
import { heldSubject, RaiseHoldBody } from './raise-hold-body.js';

const IF_MATCH = ApiHeader({
  name: 'If-Match',
  required: false,
  description: 'version of the hold: refused where it has changed since.',
});

/** What people do about holds. */
@ApiTags('holds')
@Roles('quality', 'approver', 'admin')
@Controller('v1')
export class HoldDeskController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly signing: SigningDesk,
  ) {}

  @Post('holds')
  @Answers(201, 'The hold.', ref('DeskHold'))
  @Problems('unreadable-json', 'not-found', 'invalid-body', 'assignee-unfit')
  async raiseHold(@Body() body: RaiseHoldBody, @Caller() caller: Principal): Promise<DeskHoldView> {
    const { note, dueAt, assignee } = body;
    const subject = heldSubject(body);
    await fitAssignee(this.deps.identity.people, assignee);
    const wish = { subject, note, by: caller.name, ...given({ dueAt, assignee }) };
    return this.seen(done(await raiseHold(this.deps.book, wish)), caller);
  }

  @Post('holds/:id/dispositions')
  @Roles('quality', 'approver')
  @IF_MATCH
  @Answers(201, 'The hold, with the decision in force.', ref('DeskHold'))
  @Problems('unreadable-json', 'signature-required', 'wrong-password', 'not-found', 'hold-not-open', 'hold-full')
  @Problems('hold-changed', 'event-still-parked', 'decision-unfit', 'invalid-body', 'too-many-attempts')
  async disposeHold(
    @Param('id') id: string,
    @Body() { decision, note, signature }: DisposeHoldBody,
    @Caller() caller: Principal,
    @Headers('If-Match') match?: string,
  ): Promise<DeskHoldView> {
    const signer = await this.signing.signer(caller, signature);
    const wish = { id: known(id), decision, note, signer, ...ifMatch(match) };
    return this.seen(done(await disposeHold(this.deps.book, wish)), caller);
  }

  @Post('holds/:id/release')
  @Roles('quality', 'approver')
  @HttpCode(200)
  @IF_MATCH
  @Answers(200, 'The hold, released.', ref('DeskHold'))
  @Problems('unreadable-json', 'signature-required', 'wrong-password', 'not-found', 'hold-not-open')
  @Problems('disposition-needed', 'two-people-needed', 'approver-needed', 'hold-changed', 'invalid-body')
  @Problems('event-still-parked', 'too-many-attempts')
  async releaseHold(
    @Param('id') id: string,
    @Body() { note, signature }: ReleaseHoldBody,
    @Caller() caller: Principal,
    @Headers('If-Match') match?: string,
  ): Promise<DeskHoldView> {
    const signer = await this.signing.signer(caller, signature);
    const wish = { id: known(id), note, signer, ...ifMatch(match) };
    return this.seen(done(await releaseHold(this.deps.book, wish)), caller);
  }

  @Post('holds/:id/comments')
  @Roles('operator', 'quality', 'approver', 'admin')
  @IF_MATCH
  @Answers(201, 'The hold.', ref('DeskHold'))
  @Problems('unreadable-json', 'not-found', 'hold-full', 'hold-changed', 'invalid-body')
  async commentHold(
    @Param('id') id: string,
    @Body() { text }: CommentBody,
    @Caller() caller: Principal,
    @Headers('If-Match') match?: string,
  ): Promise<DeskHoldView> {
    const wish = { id: known(id), text, by: caller, ...ifMatch(match) };
    return this.seen(done(await commentHold(this.deps.book, wish)), caller);
  }

  @Put('holds/:id/assignment')
  @IF_MATCH
  @Answers(200, 'The hold.', ref('DeskHold'))
  @Problems('unreadable-json', 'not-found', 'hold-not-open', 'hold-changed', 'invalid-body', 'assignee-unfit')
  async assignHold(
    @Param('id') id: string,
    @Body() { assignee, dueAt }: AssignmentBody,
    @Caller() caller: Principal,
    @Headers('If-Match') match?: string,
  ): Promise<DeskHoldView> {
    await fitAssignee(this.deps.identity.people, assignee);
    const wish = { id: known(id), ...ifMatch(match) };
    return this.seen(done(await assignHold(this.deps.book, wish, { assignee, dueAt }, caller)), caller);
  }

  @Post('hold-assignments')
  @HttpCode(200)
  @Answers(200, 'The holds, by id.', record({ items: list(ref('DeskHold')) }))
  @Problems('unreadable-json', 'not-found', 'hold-not-open', 'invalid-body', 'assignee-unfit')
  async assignHolds(
    @Body() { holds, assignee, dueAt }: AssignmentsBody,
    @Caller() caller: Principal,
  ): Promise<{ items: DeskHoldView[] }> {
    await fitAssignee(this.deps.identity.people, assignee);
    const assigned = await assignHolds(this.deps.book, holds.map(known), { assignee, dueAt }, caller);
    return { items: await Promise.all(done(assigned).map((hold) => this.seen(hold, caller))) };
  }

  private seen(hold: HoldRecord, caller: Principal): Promise<DeskHoldView> {
    const { identity, clock, book } = this.deps;
    return withNames(identity.names, deskHoldView(hold, { caller, now: clock.now(), seal: book.seal }));
  }
}

/** @throws ProblemError not-found where no hold can have such an id */
function known(id: string): string {
  return isHoldId(id) ? id : done<never>(unknownHold(id));
}
