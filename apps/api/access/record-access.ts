import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { isName } from '../../../libs/domain/subject/names.js';
import { hasRole } from '../../../libs/ledger/identity/principal.js';
import { AccessKind, AccessRecord } from '../../../libs/ledger/ports/access-store.js';
import { fitText } from '../../../libs/ledger/intake/unfit-text.js';
import { Clock } from '../../../libs/ledger/ports/clock.js';
import { AccessRecorder } from './access-recorder.js';
import { RECORDED_ROUTES } from './recorded-routes.js';

declare module 'fastify' {
  interface FastifyRequest {
    /** Code of the problem that was answered, or of one in a batch; null where there was none. */
    problemCode: string | null;
    /** Whether the refusal only repeats one that is on record: that its client was refused too often. */
    repeatsRefusal: boolean;
  }
}

/** A path is bounded by its names; one that is longer is no subject. */
const LONGEST_SUBJECT = 400;
/** Refusals besides every 401 and 403: someone locked out or refused too often, and events of another source in a batch. */
const REFUSING_CODES: ReadonlySet<string> = new Set(['too-many-attempts', 'too-many-refusals', 'foreign-source']);

/** Puts on record who was refused, and who came in or changed who may. */
export function recordAccess(instance: FastifyInstance, recorder: AccessRecorder, clock: Clock): void {
  instance.decorateRequest('problemCode', null);
  instance.decorateRequest('repeatsRefusal', false);
  // Before the answer leaves: a key that is in use has its issue on record.
  instance.addHook('onSend', (request, reply, _payload, done) => {
    const kind = reply.statusCode < 400 ? RECORDED_ROUTES.get(routeOf(request) ?? '') : undefined;
    if (kind === undefined) done();
    else
      recorder.write(recordOf(request, clock, kind, 'done')).then(() => {
        done();
      }, done);
  });
  instance.addHook('onResponse', (request, reply, done) => {
    if (isRefusal(request, reply)) {
      const record = recordOf(request, clock, 'refused', request.problemCode ?? String(reply.statusCode));
      if (request.caller === null) recorder.noteStranger(record);
      else recorder.note(record);
    }
    done();
  });
}

/** A customer who asks for what is not theirs is answered 404, and so is one who asks for what is not there. */
function isRefusal(
  { caller, problemCode, pattern, repeatsRefusal }: FastifyRequest,
  { statusCode }: FastifyReply,
): boolean {
  if (repeatsRefusal) return false;
  if (statusCode === 401 || statusCode === 403) return true;
  if (problemCode !== null && REFUSING_CODES.has(problemCode)) return true;
  return statusCode === 404 && pattern !== undefined && caller !== null && hasRole(caller, 'customer');
}

function recordOf(request: FastifyRequest, clock: Clock, kind: AccessKind, outcome: string): AccessRecord {
  const { caller } = request;
  return {
    at: clock.now(),
    kind,
    caller: caller?.name ?? claimedName(request.body),
    roles: caller?.roles ?? [],
    route: routeOf(request) ?? null,
    subject: subjectOf(request.params) ?? (caller === null || kind === 'refused' ? null : claimedName(request.body)),
    outcome,
  };
}

function routeOf({ method, pattern }: FastifyRequest): string | undefined {
  return pattern === undefined ? undefined : `${method} ${pattern}`;
}

/** With all of it in a form that can be kept: one record that cannot would hold up all after it. */
function subjectOf(params: unknown): string | null {
  if (typeof params !== 'object' || params === null) return null;
  const names = Object.values(params).filter((value) => typeof value === 'string');
  return names.length === 0 ? null : fitText(names.join('/').slice(0, LONGEST_SUBJECT));
}

/** Whom somebody who signs in says they are, or whose account is made. Nothing else of a body is looked at. */
function claimedName(body: unknown): string | null {
  if (typeof body !== 'object' || body === null || !('name' in body)) return null;
  const { name } = body;
  return typeof name === 'string' && isName(name) ? name : null;
}
