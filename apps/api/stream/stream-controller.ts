import { Controller, Get, Headers, Inject, Req, Res } from '@nestjs/common';
import { ApiHeader, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import type { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import type { FeedEye } from '../../../libs/ledger/stream/feed-listener.js';
import { parsePlace } from '../../../libs/ledger/stream/stream-place.js';
import { isCustomer, readsFor } from '../access/reads-for.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';
import { KeyRing } from '../identity/key-ring.js';
import { Caller, PEOPLE, Roles } from '../identity/roles.js';
import { SessionDesk } from '../identity/session-desk.js';
import { Problems } from '../openapi/describe.js';
import { list, ref } from '../openapi/schema-parts.js';
import { StreamDesk } from './stream-desk.js';
import { StreamListener } from './stream-listener.js';

/** Tells those who listen what has changed, as it changes. */
@ApiTags('stream')
@Roles(...PEOPLE)
@Controller('v1/stream')
export class StreamController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly desk: StreamDesk,
    private readonly keys: KeyRing,
    private readonly sessions: SessionDesk,
  ) {}

  @Get()
  @ApiHeader({ name: 'Last-Event-ID', required: false, description: 'Id of the last message that was read.' })
  @ApiResponse({
    status: 200,
    description:
      'Server-sent events: hello (it begins now), entry, hold, clearance (something changed; ask for it), reset (what came since the last message is not told any more; ask for all that is shown). The schema is of the messages as a browser hands them out, data parsed.',
    content: { 'text/event-stream': { schema: list(ref('StreamMessage')) } },
  })
  @Problems('bad-request', 'too-many-streams', 'unavailable')
  async follow(
    @Headers('last-event-id') lastId: string | undefined,
    @Caller() caller: Principal,
    @Req() request: FastifyRequest,
    @Res() reply: FastifyReply,
  ): Promise<void> {
    const nowMs = (): number => Date.parse(this.deps.clock.now());
    const last = lastId === undefined || lastId === '' ? null : parsePlace(lastId, nowMs());
    if (last === undefined) {
      throw new ProblemError('bad-request', 'Last-Event-ID is not the id of a message; leave it out to begin now.');
    }
    const listener = new StreamListener(this.eyeOf(caller), nowMs);
    const leave = await this.desk.join({ listener, caller, isAdmitted: () => this.isAdmitted(request) }, last);
    if (reply.raw.destroyed) {
      // Whoever left meanwhile has been told of for the last time: nothing else would end the stream.
      leave();
      reply.hijack();
      return;
    }
    reply.raw.once('close', leave);
    void reply
      .headers({
        'content-type': 'text/event-stream; charset=utf-8',
        'cache-control': 'no-store',
        // Proxies that gather answers before they pass them on would keep changes back.
        'x-accel-buffering': 'no',
        // Nothing follows on this connection, so that the server need not wait for it when it stops.
        connection: 'close',
      })
      .send(listener.events);
  }

  /** @throws ProblemError unavailable where the caller is a customer that the database would not confine */
  private eyeOf(caller: Principal): FeedEye {
    const reads = (): ReadStore => readsFor(this.deps, caller);
    reads();
    if (!isCustomer(caller)) return { key: 'house', reads, clearances: true };
    return { key: `customer ${caller.customer ?? ''}`, reads, clearances: false };
  }

  /** Listening keeps no session alive. */
  private async isAdmitted({ headers: { authorization }, signedIn }: FastifyRequest): Promise<boolean> {
    if (authorization !== undefined) return (await this.keys.identify(authorization)) !== undefined;
    return signedIn !== null && this.sessions.isLive(signedIn.session.tokenHash);
  }
}
