import { Controller, Get, Headers, Res } from '@nestjs/common';
import { ApiHeader, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { notModified } from '../http/not-modified.js';
import { ProblemError } from '../http/problem.js';
import { Open } from '../identity/roles.js';
import { Problems } from '../openapi/describe.js';
import { VerifyPage } from './verify-page.js';

/** For those who check an audit without installing anything. Open to everyone: the page has nobody's data. */
@ApiTags('audits')
@Open()
@Controller('verify')
export class VerifyPageController {
  constructor(private readonly page: VerifyPage) {}

  @Get()
  @ApiHeader({ name: 'If-None-Match', required: false, description: 'ETag of the page that the caller has.' })
  @ApiResponse({
    status: 200,
    description:
      'A page that checks audits and archives in the browser as heatbook verify does. It is one file, can be saved, and reaches no server.',
    content: { 'text/html': { schema: { type: 'string' } } },
  })
  @ApiResponse({ status: 304, description: 'If-None-Match names this page.' })
  @Problems('page-not-built')
  getVerifyPage(
    @Headers('if-none-match') known: string | undefined,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): string {
    const { built } = this.page;
    if (built === undefined) {
      throw new ProblemError('page-not-built', 'Say "npm run build" where the service runs, and start it again.');
    }
    const { html, etag, policy } = built;
    void reply.headers({
      etag,
      'content-type': 'text/html; charset=utf-8',
      'cache-control': 'public, no-cache',
      'content-security-policy': `${policy}; frame-ancestors 'none'`,
      'cross-origin-opener-policy': 'same-origin',
    });
    if (!notModified(known, etag)) return html;
    void reply.status(304);
    return '';
  }
}
