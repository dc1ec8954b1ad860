import { Body, Controller, Delete, Get, HttpCode, Inject, Param, Post, Query, Req, Res } from '@nestjs/common';
import { ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { KEPT_MS, MOST_UNITS } from '../../../libs/ledger/archives/archive-bounds.js';
import type { ArchiveOwner, ArchiveRecord } from '../../../libs/ledger/archives/archive-record.js';
import { startArchive } from '../../../libs/ledger/archives/start-archive.js';
import { hasRole, type Principal } from '../../../libs/ledger/identity/principal.js';
import { isCustomer, readsFor } from '../access/reads-for.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { type ListBody, listBody, PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { Caller, PEOPLE, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { ArchiveBody, unitsIn } from './archive-bodies.js';
import { archiveRefused } from './archive-refused.js';
import { type ArchiveNow, archiveView, type ArchiveView } from './archive-view.js';
import { sendArchive } from './send-archive.js';

/** Histories of many units in one file. */
@ApiTags('audits')
@Roles(...PEOPLE)
@Controller('v1/audits')
export class ArchivesController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Post()
  @HttpCode(202)
  @Answers(202, 'On record; GET it to follow how it is made.', ref('Archive'))
  @Problems(
    'unreadable-json',
    'invalid-body',
    'not-found',
    'format-unavailable',
    'archive-too-wide',
    'too-many-archives',
  )
  async askForArchive(@Body() body: ArchiveBody, @Caller() caller: Principal): Promise<ArchiveView> {
    const units = unitsIn(body);
    const { formats = [], since = [] } = body;
    const { archives, clock, book } = this.deps;
    const deps = { archives, clock, newId: () => book.newId(), reads: readsFor(this.deps, caller) };
    const record = await startArchive(deps, { owner: ownerOf(caller), units, formats, since });
    if (typeof record === 'string') throw archiveRefused(record, body.assembly);
    await this.wake(record);
    return archiveView(record);
  }

  @Get()
  @Answers(200, 'Own archives, newest first; for quality, auditor and admin everybody’s.', pageOf(ref('Archive')))
  @Problems('invalid-query')
  listArchives(@Query() query: PageQuery, @Caller() caller: Principal): Promise<ListBody<ArchiveView>> {
    const filter = seesAll(caller) ? null : ownerOf(caller);
    return listBody(query, (page) => this.deps.archives.list(filter, page), archiveView);
  }

  @Get(':id')
  @Answers(200, 'The archive, and how far it is.', ref('ArchiveNow'))
  @Problems('not-found')
  async getArchive(@Param('id') id: string, @Caller() caller: Principal): Promise<ArchiveNow> {
    const record = await this.known(id, caller);
    const missing = record.missing === 0 ? [] : await this.deps.archives.units(id, 0, MOST_UNITS, 'missing');
    return { ...archiveView(record), missing: missing.map(({ assembly, serial }) => ({ assembly, serial })) };
  }

  @Delete(':id')
  @HttpCode(204)
  @ApiResponse({ status: 204, description: 'Cancelled where it was not made yet, and otherwise removed.' })
  @Problems('not-found')
  async deleteArchive(@Param('id') id: string, @Caller() caller: Principal): Promise<void> {
    const record = await this.known(id, caller);
    if (!isOwn(record, caller) && !hasRole(caller, 'admin')) {
      throw new ProblemError('not-allowed', 'Only who asked for an archive, or an admin, may remove it.');
    }
    const { archives, clock } = this.deps;
    const at = clock.now();
    const outcome = await archives.cancel(id, at, new Date(Date.parse(at) + KEPT_MS).toISOString());
    if (outcome === 'over') await archives.remove(id);
  }

  @Get(':id/archive')
  @ApiResponse({
    status: 200,
    description:
      'The archive; docs/archive-format.md says what is in it. ETag is the SHA-256 of its manifest. It takes Range, so that a download that broke off can go on.',
    content: { 'application/zip': { schema: { type: 'string', format: 'binary' } } },
  })
  @ApiResponse({ status: 206, description: 'The stretch that Range asks for.' })
  @ApiResponse({ status: 304, description: 'If-None-Match names this archive.' })
  @Problems('not-found', 'archive-not-done', 'range-unsatisfiable')
  async downloadArchive(
    @Param('id') id: string,
    @Caller() caller: Principal,
    @Req() request: FastifyRequest,
    @Res() reply: FastifyReply,
  ): Promise<void> {
    const record = await this.known(id, caller);
    if (record.state !== 'done') throw notDone(record);
    sendArchive(this.deps, record, request, reply);
  }

  private async known(id: string, caller: Principal): Promise<ArchiveRecord> {
    const record = await this.deps.archives.get(id);
    if (record !== undefined && (seesAll(caller) || isOwn(record, caller))) return record;
    throw new ProblemError(
      'not-found',
      `There is no archive ${id} to show; it may have expired. GET /v1/audits lists those that there are.`,
    );
  }

  /** A hint: where the carrier is away, the sweep finds the archive. */
  private async wake({ id }: ArchiveRecord): Promise<void> {
    const job = { name: 'make-archive', payload: { archive: id }, options: { dedupeKey: id } } as const;
    await this.deps.queue.addMany([job]).catch((error: unknown) => {
      this.deps.log.warn('an archive waits for the sweep', { archive: id, error: String(error) });
    });
  }
}

function ownerOf(caller: Principal): ArchiveOwner {
  return { name: caller.name, via: caller.via, customer: isCustomer(caller) ? (caller.customer ?? '') : null };
}

function isOwn({ owner }: ArchiveRecord, caller: Principal): boolean {
  const { name, via, customer } = ownerOf(caller);
  return owner.name === name && owner.via === via && owner.customer === customer;
}

function seesAll(caller: Principal): boolean {
  return !isCustomer(caller) && hasRole(caller, 'quality', 'auditor', 'admin');
}

function notDone({ id, state, done, wanted, failure }: ArchiveRecord): ProblemError {
  const way =
    state === 'failed'
      ? `It failed: ${String(failure)} Mend that, and ask again with POST /v1/audits.`
      : state === 'cancelled'
        ? 'It was cancelled; ask again with POST /v1/audits.'
        : `${String(done)} of ${String(wanted)} units are in it; GET /v1/audits/${id} says when it is done.`;
  return new ProblemError('archive-not-done', way);
}
