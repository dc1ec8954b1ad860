import { Controller, Get, HttpCode, Inject, Post, Query, Req } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { AcceptedEvents } from '../../../libs/ledger/intake/accept-events.js';
import { EventForm, eventForm, readEvents } from '../../../libs/ledger/intake/event-form.js';
import { Reading } from '../../../libs/ledger/intake/read-events.js';
import { InboxFull } from '../../../libs/ledger/intake/inbox-load.js';
import { intakeProblem } from '../../../libs/ledger/intake/problems.js';
import { hasRole, type Principal } from '../../../libs/ledger/identity/principal.js';
import { EventStatus } from '../../../libs/ledger/ports/read-store.js';
import { HoldView, holdView } from '../../../libs/ledger/views/hold-view.js';
import { withNames } from '../../../libs/ledger/signing/with-names.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { TextField } from '../http/fields.js';
import { ProblemAnswer, ProblemError } from '../http/problem.js';
import { requestRefOf } from '../http/request-ref.js';
import { inRequestSpan } from '../http/request-traces.js';
import { Caller, callerOf, HOUSE, Roles } from '../identity/roles.js';
import { Answers, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { IntakeDesk } from './intake-desk.js';

export class EventRefQuery {
  @TextField({ max: 200, description: '/stations/{station}' })
  readonly source!: string;

  @TextField({ max: 200 })
  readonly id!: string;
}

/** How far an event has come. */
interface EventAnswer extends Pick<EventStatus, 'state' | 'subject' | 'type' | 'entries' | 'request'> {
  readonly source: string;
  readonly id: string;
  readonly holds: readonly HoldView[];
  /** Why it is parked and what would mend that. */
  readonly reason?: NonNullable<EventStatus['reason']>;
}

@ApiTags('events')
@Roles('station', 'admin')
@Controller('v1/events')
export class EventsController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly desk: IntakeDesk,
  ) {}

  @Post()
  @HttpCode(202)
  @Answers(202, 'What became of each event. Accepted events are durable by now.', ref('Acceptance'))
  @Problems(
    'unreadable-json',
    'foreign-source',
    'event-conflict',
    'batch-too-large',
    'too-large',
    'unknown-media-type',
    'wrong-shape',
    'station-full',
    'backlog-full',
    'inbox-full',
  )
  // Everything is taken from the request: parameters that go through the pipes cost promises, and this is the hot route.
  async postEvents(@Req() request: FastifyRequest): Promise<AcceptedEvents> {
    const caller = callerOf(request);
    const text = asText(request.body);
    const form = formOf(request.headers['content-type'] ?? '', text);
    const reading = readEvents(form, text);
    if (!reading.ok) throw new ProblemAnswer(reading.problem);
    const result = await this.accept(reading, caller, request);
    // A batch is answered 202 though a part of it was refused; the access record must know.
    if (result.items.some(isForeign)) request.problemCode = 'foreign-source';
    const [only] = result.items;
    if (form === 'single' && only?.state === 'rejected') throw new ProblemAnswer(only.problem);
    return result;
  }

  @Get()
  @Roles('station', ...HOUSE)
  @Answers(200, 'How far the event has come.', ref('EventStatus'))
  @Problems('not-found', 'foreign-source', 'invalid-query')
  async getEvent(@Query() { source, id }: EventRefQuery, @Caller() caller: Principal): Promise<EventAnswer> {
    if (hasRole(caller, 'station') && !maySpeakFor(caller, source)) {
      throw new ProblemError('foreign-source', `The key may only ask for events of ${sourceOf(caller)}.`);
    }
    const { reads } = this.deps;
    const [status, holds] = await Promise.all([reads.eventStatus({ source, id }), reads.holdsByEvent({ source, id })]);
    if (status === undefined) {
      throw new ProblemError('not-found', `No event ${id} of ${source} was accepted; post it (again).`);
    }
    const { state, subject, type, entries, reason, request } = status;
    const named = await withNames(this.deps.identity.names, holds.map(holdView));
    const found = { source, id, state, subject, type, entries, holds: named, ...(request && { request }) };
    return reason === null ? found : { ...found, reason };
  }

  private async accept(
    reading: Extract<Reading, { ok: true }>,
    caller: Principal,
    request: FastifyRequest,
  ): Promise<AcceptedEvents> {
    try {
      const { tracer } = this.deps;
      return await this.desk.take(
        reading.items,
        { maySpeakFor: (source) => maySpeakFor(caller, source), request: requestRefOf(request) },
        (insert) => inRequestSpan(request, tracer, 'insert events', insert),
      );
    } catch (error) {
      if (!(error instanceof InboxFull)) throw error;
      const detail = `${WHY_FULL[error.code]} Nothing of this request was kept. Send it again, unchanged, after Retry-After seconds.`;
      throw new ProblemAnswer(intakeProblem(error.code, detail), { 'retry-after': String(error.retryAfterSeconds) });
    }
  }
}

const WHY_FULL: Readonly<Record<InboxFull['code'], string>> = {
  'station-full': 'Wait for the answers of what this station has sent before it sends more.',
  'backlog-full': 'More events wait to be judged than the house allows.',
  'inbox-full': 'More events come than the database takes.',
};

function isForeign(item: AcceptedEvents['items'][number]): boolean {
  return item.state === 'rejected' && item.problem.type.endsWith(':foreign-source');
}

/** The parser takes no other types than those of events; a request without a body has none. */
function formOf(mediaType: string, text: string): EventForm {
  return eventForm(mediaType, text) ?? 'single';
}

/** The parser hands events over as text; a request without a body has none. */
function asText(body: unknown): string {
  return typeof body === 'string' ? body : '';
}

function sourceOf(station: Principal): string {
  return `/stations/${station.name}`;
}

function maySpeakFor(caller: Principal, source: string): boolean {
  return hasRole(caller, 'admin') || source === sourceOf(caller);
}
