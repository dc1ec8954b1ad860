/** What the API answered instead of what was asked for (RFC 9457), or that it did not answer. */
export class ApiProblem extends Error {
  constructor(
    /** HTTP status; 0: nothing answered. */
    readonly status: number,
    /** The last part of the problem's type: `hold-changed`, `not-found`. */
    readonly code: string,
    readonly title: string,
    /** Says what would mend it. */
    readonly detail: string,
    /** Further members of the problem, such as `errors` and `reasons`. */
    readonly members: Readonly<Record<string, unknown>>,
  ) {
    super(`${title}: ${detail}`);
    this.name = 'ApiProblem';
  }
}

const TYPE = 'urn:heatbook:problem:';

/** Reads a problem from a body that should be one. */
export function problemOf(status: number, body: unknown): ApiProblem {
  const members: Record<string, unknown> = typeof body === 'object' && body !== null ? { ...body } : {};
  const text = (key: string, otherwise: string): string => {
    const value = members[key];
    return typeof value === 'string' ? value : otherwise;
  };
  const code = text('type', 'unknown').replace(TYPE, '');
  const title = text('title', `The service answered ${status}`);
  return new ApiProblem(
    status,
    code,
    title,
    text('detail', 'Try again; if it stays, tell whoever runs the service.'),
    members,
  );
}

/** What to show of any failure. */
export function asProblem(error: unknown): ApiProblem {
  if (error instanceof ApiProblem) return error;
  return new ApiProblem(
    0,
    'no-answer',
    'The service does not answer',
    'Check the network; the page tries again by itself when it can.',
    {},
  );
}
