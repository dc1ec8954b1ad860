import { INTAKE_PROBLEMS } from '../../../libs/ledger/intake/problems.js';

interface ProblemKind {
  readonly status: number;
  readonly title: string;
}

/** Every problem that a route can answer with: its code, HTTP status and title. */
export const PROBLEMS = {
  ...INTAKE_PROBLEMS,
  'bad-request': { status: 400, title: 'The request cannot be read' },
  'key-required': { status: 401, title: 'A valid key is required' },
  'not-allowed': { status: 403, title: 'The key does not allow this' },
  'not-found': { status: 404, title: 'There is no such record' },
  'no-such-route': { status: 404, title: 'There is no such address' },
  'method-not-allowed': { status: 405, title: 'The address does not take this method' },
  'format-unavailable': { status: 406, title: 'There is no such format' },
  'too-many-keys': { status: 409, title: 'There are too many live keys' },
  'hold-not-open': { status: 409, title: 'The hold is not open' },
  'trace-conflict': { status: 409, title: 'The trace name was used for another file' },
  'too-large': { status: 413, title: 'The body is too large' },
  'unknown-media-type': { status: 415, title: 'The content type is not taken here' },
  'invalid-body': { status: 422, title: 'The body has another shape' },
  'invalid-query': { status: 422, title: 'The query has another shape' },
  'invalid-name': { status: 422, title: 'The name cannot be used' },
  'unreadable-trace': { status: 422, title: 'The file cannot be read as a trace' },
  unavailable: { status: 503, title: 'The service cannot work for the moment' },
  internal: { status: 500, title: 'Something went wrong on our side' },
} as const satisfies Record<string, ProblemKind>;

export type ProblemCode = keyof typeof PROBLEMS;
