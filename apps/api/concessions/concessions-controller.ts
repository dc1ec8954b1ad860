import { Body, Controller, Get, HttpCode, Inject, Param, Post, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { streamOfHold } from '../../../libs/domain/holds/hold-subject.js';
import { concessionById, type ConcessionRecord } from '../../../libs/ledger/concessions/concession-record.js';
import { signConcession } from '../../../libs/ledger/concessions/sign-concession.js';
import { withdrawConcession } from '../../../libs/ledger/concessions/withdraw-concession.js';
import { BOOK_ENTRY_TYPES } from '../../../libs/ledger/fold/book-effect.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import type { SealedEntry } from '../../../libs/ledger/ports/seal.js';
import { withNames } from '../../../libs/ledger/signing/with-names.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { done } from '../holds/done.js';
import { type ListBody, listBody, pageOfAll } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { Caller, Roles } from '../identity/roles.js';
import { SigningDesk } from '../identity/signing-desk.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { concededSubject, ConcessionBody, ConcessionsQuery, WithdrawConcessionBody } from './concession-bodies.js';

/** A concession with the ledger entries that carry its signatures. */
interface ExplainedConcession extends ConcessionRecord {
  readonly entries: readonly SealedEntry[];
}

/** More concessions than any subject gathers; its ledger has all of them. */
const MOST_ENTRIES = 500;

/** Exceptions that a customer approved and an approver signed. */
@ApiTags('concessions')
@Roles('operator', 'quality', 'approver', 'auditor', 'admin')
@Controller('v1/concessions')
export class ConcessionsController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly signing: SigningDesk,
  ) {}

  @Get()
  @Answers(200, 'Concessions, newest first; those that were withdrawn too.', pageOf(ref('Concession')))
  @Problems('invalid-query')
  async listConcessions(@Query() query: ConcessionsQuery): Promise<ListBody<ConcessionRecord>> {
    const { setup } = this.deps;
    await setup.catchUp();
    const all = setup.all('concession').flatMap(({ name }) => concessionById(setup, name) ?? []);
    const found = all.filter((concession) => fits(concession, query)).sort(newestFirst);
    return listBody(
      query,
      (page) => pageOfAll(found, ({ id }) => id, page),
      (concession) => concession,
    );
  }

  @Get(':id')
  @Answers(200, 'The concession, with the entries that carry its signatures.', ref('ExplainedConcession'))
  @Problems('not-found')
  async getConcession(@Param('id') id: string): Promise<ExplainedConcession> {
    await this.deps.setup.catchUp();
    const found = concessionById(this.deps.setup, id);
    if (found === undefined) {
      throw new ProblemError('not-found', `There is no concession ${id}; GET /v1/concessions lists them.`);
    }
    const { concessionSigned, concessionWithdrawn } = BOOK_ENTRY_TYPES;
    const page = { limit: MOST_ENTRIES, order: 'desc', afterSeq: null } as const;
    const read = (type: string): Promise<readonly SealedEntry[]> =>
      this.deps.reads.ledger(streamOfHold(found.subject), { ...page, type });
    const entries = await Promise.all([read(concessionSigned), read(concessionWithdrawn)]);
    const own = entries.flat().filter(({ data }) => isAbout(data, id));
    return { ...found, entries: await withNames(this.deps.identity.names, own) };
  }

  @Post()
  @Roles('approver')
  @Answers(201, 'The concession: it holds for what happens from now on.', ref('Concession'))
  @Problems('unreadable-json', 'signature-required', 'wrong-password', 'not-found', 'invalid-body')
  @Problems('concession-unfit', 'concession-not-looser', 'too-many-attempts')
  async signConcession(@Body() body: ConcessionBody, @Caller() caller: Principal): Promise<ConcessionRecord> {
    const { limit, allowed, customerReference, note, signature } = body;
    const subject = concededSubject(body.subject);
    const signer = await this.signing.signer(caller, signature);
    return done(await signConcession(this.deps.book, { subject, limit, allowed, customerReference, note, signer }));
  }

  @Post(':id/withdrawal')
  @Roles('approver')
  @HttpCode(200)
  @Answers(200, 'The concession, ended: the limit applies again from now on.', ref('Concession'))
  @Problems('unreadable-json', 'signature-required', 'wrong-password', 'not-found', 'concession-ended')
  @Problems('invalid-body', 'too-many-attempts')
  async withdrawConcession(
    @Param('id') id: string,
    @Body() { note, signature }: WithdrawConcessionBody,
    @Caller() caller: Principal,
  ): Promise<ConcessionRecord> {
    const signer = await this.signing.signer(caller, signature);
    return done(await withdrawConcession(this.deps.book, { id, note, signer }));
  }
}

function fits(
  { subject, limit }: ConcessionRecord,
  { assembly, serial, refdes, device, kind }: ConcessionsQuery,
): boolean {
  const wanted = { assembly, serial, refdes, device };
  const has: Readonly<Record<string, string>> = { ...subject };
  return (
    (kind === undefined || kind === limit) &&
    Object.entries(wanted).every(([member, value]) => value === undefined || has[member] === value)
  );
}

function newestFirst(a: ConcessionRecord, b: ConcessionRecord): number {
  if (a.from !== b.from) return a.from < b.from ? 1 : -1;
  return a.id < b.id ? -1 : 1;
}

function isAbout(data: unknown, concession: string): boolean {
  return typeof data === 'object' && data !== null && 'concession' in data && data.concession === concession;
}
