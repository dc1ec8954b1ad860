import { Body, Controller, Get, HttpCode, Inject, Param, Post, Query, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import type { Contained, ContainmentRecord } from '../../../libs/ledger/containment/containment-record.js';
import { repeatContainment, startContainment } from '../../../libs/ledger/containment/start-containment.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { withNames } from '../../../libs/ledger/signing/with-names.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { type ListBody, listBody, PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { Caller, Roles } from '../identity/roles.js';
import { SigningDesk } from '../identity/signing-desk.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { ContainmentBody, RepeatContainmentBody, suspicionIn } from './containment-bodies.js';
import { ContainmentDesk, type DryRun } from './containment-desk.js';
import { containmentView, type ContainmentView } from './containment-view.js';

/** Finding and holding everything that a suspect cause reached. */
@ApiTags('containments')
@Roles('quality', 'approver', 'auditor', 'admin')
@Controller('v1/containments')
export class ContainmentsController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly desk: ContainmentDesk,
    private readonly signing: SigningDesk,
  ) {}

  @Post()
  @Roles('quality')
  @Answers(200, 'Dry run: what would be held.', ref('DryRun'))
  @Answers(202, 'On record and signed; GET it to follow how it is carried out.', ref('Containment'))
  @Problems('unreadable-json', 'invalid-body', 'invalid-query', 'containment-too-wide')
  @Problems('signature-required', 'wrong-password', 'too-many-attempts')
  async contain(
    @Body() body: ContainmentBody,
    @Query() query: PageQuery,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<DryRun | ContainmentView> {
    const suspicion = suspicionIn(body);
    const { dryRun = false, holdCause = false, note, signature } = body;
    if (dryRun) {
      reply.status(200);
      return this.desk.dryRun(suspicion, query);
    }
    if (note === undefined || signature === undefined) throw unsigned(note === undefined ? '/note' : '/signature');
    const signer = await this.signing.signer(caller, signature);
    const { containments, book } = this.deps;
    const record = await startContainment({ ...book, containments }, { ...suspicion, holdCause, note, signer });
    await this.wake(record);
    reply.status(202);
    return this.seen(record);
  }

  @Get()
  @Answers(200, 'Containments, newest first.', pageOf(ref('Containment')))
  @Problems('invalid-query')
  async listContainments(@Query() query: PageQuery): Promise<ListBody<ContainmentView>> {
    const page = await listBody(query, (request) => this.deps.containments.list(request), containmentView);
    return withNames(this.deps.identity.names, page);
  }

  @Get(':id')
  @Answers(200, 'The containment, how far it is, and what it has missed.', ref('ContainmentNow'))
  @Problems('not-found', 'containment-too-wide')
  async getContainment(@Param('id') id: string): Promise<ContainmentView & { missed: number | null }> {
    const record = await this.known(id);
    return { ...(await this.seen(record)), missed: await this.desk.missed(record) };
  }

  @Get(':id/units')
  @Answers(200, 'What it holds or has held: units and loose devices, by name.', pageOf(ref('Contained')))
  @Problems('not-found', 'invalid-query')
  async listContained(@Param('id') id: string, @Query() query: PageQuery): Promise<ListBody<Contained>> {
    await this.known(id);
    return listBody(
      query,
      (page) => this.deps.containments.contained(id, page),
      (one) => one,
    );
  }

  @Post(':id/repeat')
  @HttpCode(202)
  @Roles('quality')
  @Answers(202, 'Another round is on record: it holds what is new.', ref('Containment'))
  @Problems('unreadable-json', 'not-found', 'containment-under-way', 'invalid-body')
  @Problems('signature-required', 'wrong-password', 'too-many-attempts')
  async repeatContainment(
    @Param('id') id: string,
    @Body() { note, signature }: RepeatContainmentBody,
    @Caller() caller: Principal,
  ): Promise<ContainmentView> {
    await this.known(id);
    const signer = await this.signing.signer(caller, signature);
    const { containments, book } = this.deps;
    const record = await repeatContainment({ ...book, containments }, { id, note, signer });
    if (record === 'not-found') throw unknown(id);
    if (record === 'busy') {
      throw new ProblemError('containment-under-way', 'Wait until its state is done or failed, then repeat it.');
    }
    await this.wake(record);
    return this.seen(record);
  }

  private seen(record: ContainmentRecord): Promise<ContainmentView> {
    return withNames(this.deps.identity.names, containmentView(record));
  }

  private async known(id: string): Promise<ContainmentRecord> {
    const record = await this.deps.containments.get(id);
    if (record === undefined) throw unknown(id);
    return record;
  }

  /** A hint: where the carrier is away, the sweep finds the round. */
  private async wake({ id }: ContainmentRecord): Promise<void> {
    const job = { name: 'run-containment', payload: { containment: id }, options: { dedupeKey: id } } as const;
    await this.deps.queue.addMany([job]).catch((error: unknown) => {
      this.deps.log.warn('a containment waits for the sweep', { containment: id, error: String(error) });
    });
  }
}

function unknown(id: string): ProblemError {
  return new ProblemError('not-found', `There is no containment ${id}; GET /v1/containments lists them.`);
}

function unsigned(pointer: string): ProblemError {
  return new ProblemError('invalid-body', 'Send note and signature to contain, or dryRun: true to look only.', {
    errors: [{ pointer, detail: 'must be given unless dryRun is true' }],
  });
}
