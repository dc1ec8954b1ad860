import { INTAKE_PROBLEMS } from '../../../libs/ledger/intake/problems.js';

interface ProblemKind {
  readonly status: number;
  readonly title: string;
}

/** Every problem that a route can answer with: its code, HTTP status and title. */
export const PROBLEMS = {
  ...INTAKE_PROBLEMS,
  'bad-request': { status: 400, title: 'The request cannot be read' },
  'key-required': { status: 401, title: 'A valid key or session is required' },
  'sign-in-failed': { status: 401, title: 'Name and password do not fit' },
  'not-allowed': { status: 403, title: 'The caller may not do this' },
  'csrf-token-required': { status: 403, title: 'The token of the session is missing' },
  'signature-required': { status: 403, title: 'Only a person who has signed in can sign' },
  'wrong-password': { status: 403, title: 'The password is wrong' },
  'not-found': { status: 404, title: 'There is no such record' },
  'no-such-route': { status: 404, title: 'There is no such address' },
  'method-not-allowed': { status: 405, title: 'The address does not take this method' },
  'format-unavailable': { status: 406, title: 'There is no such format' },
  'name-taken': { status: 409, title: 'The name is taken' },
  'too-many-keys': { status: 409, title: 'There are too many live keys' },
  'already-annulled': { status: 409, title: 'The event is annulled already' },
  'event-pending': { status: 409, title: 'The event is not judged yet' },
  'notice-not-open': { status: 409, title: 'The notice is not open' },
  'clearance-refused': { status: 409, title: 'The clearance is refused' },
  'clearance-used': { status: 409, title: 'Every step of the clearance is used' },
  'idempotency-key-reused': { status: 409, title: 'The key was used for another request' },
  'hold-not-open': { status: 409, title: 'The hold is not open' },
  'event-still-parked': { status: 409, title: 'The event still waits to be judged' },
  'hold-full': { status: 409, title: 'The hold takes no more of these' },
  'disposition-needed': { status: 409, title: 'Nothing is decided about the hold' },
  'two-people-needed': { status: 409, title: 'It takes two people' },
  'approver-needed': { status: 409, title: 'It takes an approver' },
  'concession-ended': { status: 409, title: 'The concession is withdrawn already' },
  'hold-changed': { status: 412, title: 'The hold has changed' },
  'containment-under-way': { status: 409, title: 'The containment is still under way' },
  'trace-conflict': { status: 409, title: 'The trace name was used for another file' },
  'too-large': { status: 413, title: 'The body is too large' },
  'unknown-media-type': { status: 415, title: 'The content type is not taken here' },
  'invalid-body': { status: 422, title: 'The body has another shape' },
  'invalid-query': { status: 422, title: 'The query has another shape' },
  'invalid-name': { status: 422, title: 'The name cannot be used' },
  'decision-unfit': { status: 422, title: 'The decision does not fit the subject' },
  'assignee-unfit': { status: 422, title: 'Nobody of that name can be given a hold' },
  'concession-unfit': { status: 422, title: 'The limit cannot be conceded so' },
  'concession-not-looser': { status: 422, title: 'The concession would allow no more' },
  'containment-too-wide': { status: 422, title: 'The cause reaches too much at once' },
  'unreadable-trace': { status: 422, title: 'The file cannot be read as a trace' },
  'too-many-attempts': { status: 429, title: 'Too many passwords were wrong' },
  unavailable: { status: 503, title: 'The service cannot work for the moment' },
  internal: { status: 500, title: 'Something went wrong on our side' },
} as const satisfies Record<string, ProblemKind>;

export type ProblemCode = keyof typeof PROBLEMS;
