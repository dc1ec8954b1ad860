import { Body, Controller, Inject, Post } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { annulEvent } from '../../../libs/ledger/annulments/annul-event.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { withNames } from '../../../libs/ledger/signing/with-names.js';
import { type HoldView, holdView } from '../../../libs/ledger/views/hold-view.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';
import { Caller, Roles } from '../identity/roles.js';
import { SigningDesk } from '../identity/signing-desk.js';
import { Answers, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { AnnulmentBody } from './annulment-body.js';

interface AnnulmentAnswer {
  /** The ledger that tells of the event and of its annulment, and the place and hash of the latter. */
  readonly entry: { readonly subject: string; readonly seq: number; readonly hash: string };
  /** RFC 3339 UTC. */
  readonly at: string;
  /** Holds as the annulment left them: raised, withdrawn, or without their cause. */
  readonly holds: readonly HoldView[];
}

/** Strikes what a station said wrongly; what was right is posted as an event of its own. */
@ApiTags('annulments')
@Roles('quality', 'approver')
@Controller('v1/annulments')
export class AnnulmentsController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly signing: SigningDesk,
  ) {}

  @Post()
  @Answers(201, 'The event is struck; what followed from it is judged anew.', ref('Annulment'))
  @Problems('unreadable-json', 'not-found', 'event-pending', 'already-annulled', 'invalid-body')
  async annulEvent(@Body() body: AnnulmentBody, @Caller() caller: Principal): Promise<AnnulmentAnswer> {
    const { event, note, signature } = body;
    const signer = await this.signing.signer(caller, signature);
    const status = await this.deps.reads.eventStatus(event);
    if (status === undefined) {
      throw new ProblemError(
        'not-found',
        `No event ${event.id} of ${event.source} was accepted; look for it by its unit.`,
      );
    }
    const done = await annulEvent(this.deps.book, { event, subject: status.subject, note, signer });
    if (done === 'already') {
      throw new ProblemError(
        'already-annulled',
        `Event ${event.id} of ${event.source} is annulled; its ledger says by whom.`,
      );
    }
    if (done === 'not-told') {
      throw new ProblemError('event-pending', 'The event is not judged yet; ask again in a moment.');
    }
    const { subject, seq, hash, at, holds } = done;
    const left = await withNames(this.deps.identity.names, holds.map(holdView));
    return { entry: { subject, seq, hash }, at, holds: left };
  }
}
