import { Controller, Get, Headers, Inject, Query, Res } from '@nestjs/common';
import { ApiHeader, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import type { ConsistencyProof, LogKey } from '../../../libs/ledger/log/log-evidence.js';
import { toHex } from '../../../libs/ledger/log/notes/hex.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { notModified } from '../http/not-modified.js';
import { ProblemError } from '../http/problem.js';
import { Open } from '../identity/roles.js';
import { Answers, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { keepForEver, keepShortly } from './log-caching.js';
import { ConsistencyQuery } from './log-queries.js';
import { coveredSize, newestCheckpoint } from './newest-checkpoint.js';

/** What whoever keeps an eye on the log needs. Open to everyone: it tells how many entries there are, and of none whose. */
@ApiTags('log')
@Open()
@Controller('v1/log')
export class LogController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get('checkpoint')
  @ApiHeader({ name: 'If-None-Match', required: false, description: 'ETag of the checkpoint that the caller has.' })
  @ApiResponse({
    status: 200,
    description: 'The newest checkpoint (C2SP tlog-checkpoint in a signed note). ETag is its root in hex.',
    content: { 'text/plain': { schema: { type: 'string' } } },
  })
  @ApiResponse({ status: 304, description: 'If-None-Match names this checkpoint.' })
  @Problems('not-found')
  async getLogCheckpoint(
    @Headers('if-none-match') known: string | undefined,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<string> {
    const { note, root } = await newestCheckpoint(this.deps);
    const etag = `"${toHex(root)}"`;
    keepShortly(reply);
    void reply.headers({ etag, 'content-type': 'text/plain; charset=utf-8' });
    if (!notModified(known, etag)) return note;
    void reply.status(304);
    return '';
  }

  @Get('keys')
  @Answers(
    200,
    'The keys that checkpoints, exports and archives are or were signed with, oldest first.',
    ref('LogKeys'),
  )
  async getLogKeys(
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<{ readonly origin: string; readonly keys: readonly LogKey[] }> {
    const { siteLog } = this.deps;
    keepShortly(reply);
    return { origin: siteLog.origin, keys: await siteLog.keys() };
  }

  @Get('proofs/consistency')
  @Answers(200, 'That the log of `from` entries is the beginning of that of `to` (RFC 6962).', ref('ConsistencyProof'))
  @Problems('not-found', 'invalid-query')
  async proveConsistency(
    @Query() { from, to }: ConsistencyQuery,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<ConsistencyProof> {
    if (from > to) {
      throw new ProblemError('invalid-query', 'The older size goes to from and the newer one to to: swap them.', {
        errors: [{ pointer: '/from', detail: 'is larger than to' }],
      });
    }
    const size = await coveredSize(this.deps, to);
    keepForEver(reply, 'public');
    return this.deps.siteLog.continue(from, size);
  }
}
