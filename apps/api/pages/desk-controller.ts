import { applyDecorators, Controller, Get, Headers, Redirect, Req, Res } from '@nestjs/common';
import { ApiHeader, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { notModified } from '../http/not-modified.js';
import { ProblemError } from '../http/problem.js';
import { Open } from '../identity/roles.js';
import { Problems } from '../openapi/describe.js';
import { type DeskFile, takesGzip } from './desk-file.js';
import { DeskPages } from './desk-pages.js';

/** Everything comes from the service itself: no inline script or style, no other server, no frame around it. */
const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data:",
  "font-src 'self'",
  "connect-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** What a request says of the copy that it has and takes; Node writes header names small. */
interface Wants {
  readonly 'if-none-match'?: string | undefined;
  readonly 'accept-encoding'?: string | undefined;
}

/** The hold desk for browsers. Open to everyone: it has nobody's data, and asks the API for them as whoever has signed in. */
@ApiTags('desk')
@Open()
@Controller()
@ApiHeader({ name: 'If-None-Match', required: false, description: 'ETag of what the caller has.' })
export class DeskController {
  constructor(private readonly desk: DeskPages) {}

  @Get()
  @ApiResponse({ status: 302, description: 'The desk is at /desk/.' })
  @Redirect('/desk/', 302)
  openDesk(): void {
    // The decorator answers.
  }

  @Get('desk')
  @DeskAnswers()
  @Problems('page-not-built')
  getDesk(@Headers() wants: Wants, @Res({ passthrough: true }) reply: FastifyReply): Buffer | string {
    return this.sendPage(wants, reply);
  }

  /**
   * Files are in `assets`, or have a first word with a dot in it. Every other address is one inside the desk, which begins with
   * a word without a dot and may name things with dots in them, such as serials.
   */
  @Get('desk/*')
  @ApiParam({ name: 'path', type: String, description: 'An address inside the desk, or a file that it loads.' })
  @DeskAnswers()
  @Problems('page-not-built', 'not-found')
  getDeskPart(
    @Req() { params, headers: wants }: FastifyRequest<{ Params: { '*': string } }>,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Buffer | string {
    const path = params['*'];
    const [first = ''] = path.split('/');
    // What the build names after its content never changes under that name.
    if (first === 'assets') return this.sendFile(path, wants, reply, 'public, max-age=31536000, immutable');
    return first.includes('.') ? this.sendFile(path, wants, reply, 'no-cache') : this.sendPage(wants, reply);
  }

  private sendPage(wants: Wants, reply: FastifyReply): Buffer | string {
    const { page } = this.desk;
    if (page === undefined) {
      throw new ProblemError('page-not-built', 'Say "npm run build" where the service runs, and start it again.');
    }
    void reply.headers({ 'content-security-policy': POLICY, 'cross-origin-opener-policy': 'same-origin' });
    return send(page, wants, reply, 'no-cache');
  }

  private sendFile(name: string, wants: Wants, reply: FastifyReply, cacheControl: string): Buffer | string {
    const file = this.desk.files.get(name);
    if (file === undefined) {
      throw new ProblemError(
        'not-found',
        'The desk has no such file. A page from before the service was changed asks for old ones: load it again.',
      );
    }
    return send(file, wants, reply, cacheControl);
  }
}

function DeskAnswers(): MethodDecorator {
  return applyDecorators(
    ApiResponse({
      status: 200,
      description:
        'The hold desk: a page that reads its own address and asks this API for what it shows; or a script, style, font or picture of it.',
      content: { 'text/html': { schema: { type: 'string' } }, '*/*': { schema: { type: 'string', format: 'binary' } } },
    }),
    ApiResponse({ status: 304, description: 'If-None-Match names what would be sent.' }),
  );
}

function send(file: DeskFile, wants: Wants, reply: FastifyReply, cacheControl: string): Buffer | string {
  const isPacked = file.gzip !== undefined && takesGzip(wants['accept-encoding']);
  const { bytes, etag } = isPacked ? file.gzip : file.plain;
  void reply.headers({ etag, vary: 'accept-encoding', 'cache-control': cacheControl, 'content-type': file.mediaType });
  if (notModified(wants['if-none-match'], etag)) {
    void reply.status(304);
    return '';
  }
  if (isPacked) void reply.header('content-encoding', 'gzip');
  return bytes;
}
