import { Controller, Get, Inject, Query, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { deviceKey, type StreamKey, unitKey } from '../../../libs/domain/subject/subject.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import type { InclusionProof } from '../../../libs/ledger/log/log-evidence.js';
import type { LogLeaf } from '../../../libs/ledger/ports/log-store.js';
import { isCustomer, readsFor } from '../access/reads-for.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';
import { Caller, PEOPLE, Roles } from '../identity/roles.js';
import { Answers, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { keepForEver } from './log-caching.js';
import { InclusionQuery, LeavesQuery } from './log-queries.js';
import { coveredSize } from './newest-checkpoint.js';

const LEAVES = 500;
/** How long an entry that was just written is waited for. */
const PATIENCE_MS = 3000;

/** A proof with the size of the log that it is in. */
type SizedInclusion = InclusionProof & { readonly size: number };

/** Entries of the log. They name units and devices, so that each caller gets those that they may see. */
@ApiTags('log')
@Controller('v1/log')
export class LogEntriesController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get('proofs/inclusion')
  @Roles(...PEOPLE)
  @Answers(200, 'That an entry is in the log of `size` entries (RFC 6962).', ref('SizedInclusionProof'))
  @Problems('not-found', 'invalid-query')
  async proveInclusion(
    @Query() query: InclusionQuery,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SizedInclusion> {
    const { siteLog } = this.deps;
    const subject = await this.seenLedger(query, caller);
    const { seq, size: asked } = query;
    if (asked === undefined) await siteLog.caughtUp([{ subject, seq }], PATIENCE_MS);
    const size = await coveredSize(this.deps, asked);
    const proof = await siteLog.entry(subject, seq, size);
    if (proof === undefined) {
      throw new ProblemError(
        'not-found',
        `The log of ${String(size)} entries has no entry ${String(seq)} of ${subject}.`,
      );
    }
    if (asked !== undefined) keepForEver(reply, 'private');
    return { ...proof, size };
  }

  @Get('leaves')
  @Roles('quality', 'auditor', 'admin')
  @Answers(200, 'Entries by their number in the log; whoever has them all can work out any root.', ref('LogLeaves'))
  @Problems('invalid-query')
  async listLogLeaves(
    @Query() { from = 0, limit = LEAVES }: LeavesQuery,
  ): Promise<{ readonly items: readonly LogLeaf[]; readonly nextFrom: number | null }> {
    const items = await this.deps.siteLog.leaves(from, limit);
    return { items, nextFrom: items.length < limit ? null : from + items.length };
  }

  /** @throws ProblemError not-found where the caller may not see it, as where there is none */
  private async seenLedger({ assembly, serial, device }: InclusionQuery, caller: Principal): Promise<StreamKey> {
    const isUnit = assembly !== undefined && serial !== undefined && device === undefined;
    if (!isUnit && (device === undefined || assembly !== undefined || serial !== undefined)) {
      throw new ProblemError('invalid-query', 'Name a unit by assembly and serial, or a device by device.', {
        errors: [{ pointer: '/assembly', detail: 'is needed with serial, unless device is given alone' }],
      });
    }
    const subject = isUnit ? unitKey(assembly, serial) : deviceKey(String(device));
    const isSeen = isUnit || !isCustomer(caller);
    if (isSeen && (await readsFor(this.deps, caller).subject(subject)) !== undefined) return subject;
    throw new ProblemError('not-found', `There is no ledger of ${subject} for you to see: check the names.`);
  }
}
