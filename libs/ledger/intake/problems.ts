/** Something wrong at one place of an event. */
export interface Fault {
  /** JSON Pointer (RFC 6901) into the event as it was sent; empty for the event as a whole. */
  readonly pointer: string;
  /** What is wrong and what is expected, as a sentence. */
  readonly detail: string;
}

/** Why an event, or a request, is turned away: RFC 9457. */
export interface Problem {
  /** `urn:heatbook:problem:` and the code: stable, to be told apart by programs. */
  readonly type: string;
  readonly title: string;
  readonly status: number;
  /** What is wrong here and what would resolve it. */
  readonly detail: string;
  readonly errors: readonly Fault[];
}

/** Every problem of the intake, with its RFC 9457 `status` and `title`. */
export const INTAKE_PROBLEMS = {
  'unreadable-json': { status: 400, title: 'The text cannot be read as JSON' },
  'foreign-source': { status: 403, title: 'The sender may not speak for this source' },
  'event-conflict': { status: 409, title: 'The event id was used for other content' },
  'batch-too-large': { status: 413, title: 'There are too many events in one request' },
  'too-large': { status: 413, title: 'The body is too large' },
  'unknown-media-type': { status: 415, title: 'The content type is not taken here' },
  'wrong-shape': { status: 422, title: 'The event has not the shape of its type' },
  'station-full': { status: 429, title: 'Too many events of the station wait' },
  'backlog-full': { status: 429, title: 'Too many events wait to be judged' },
  'inbox-full': { status: 503, title: 'The inbox is full for the moment' },
} as const;

export type IntakeProblemCode = keyof typeof INTAKE_PROBLEMS;

export function intakeProblem(code: IntakeProblemCode, detail: string, errors: readonly Fault[] = []): Problem {
  const { status, title } = INTAKE_PROBLEMS[code];
  return { type: `urn:heatbook:problem:${code}`, title, status, detail, errors };
}
