import { PROBLEMS, ProblemCode } from './problem-table.js';

/** What is wrong with one field: a JSON Pointer (RFC 6901) into the body, or `/name` for a query parameter. */
export interface FieldProblem {
  readonly pointer: string;
  readonly detail: string;
}

/** RFC 9457 problem details. */
export interface ProblemDocument {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly instance?: string;
  readonly errors?: readonly FieldProblem[];
}

export interface ProblemExtras {
  readonly errors?: readonly FieldProblem[];
  readonly headers?: Readonly<Record<string, string>>;
}

/** Thrown anywhere in a request to answer with a problem document as it is. */
export class ProblemAnswer extends Error {
  override readonly name: string = 'ProblemAnswer';

  constructor(
    readonly document: ProblemDocument,
    readonly headers: Readonly<Record<string, string>> = {},
  ) {
    super(`${document.type}: ${document.detail}`);
  }
}

/** Thrown anywhere in a request to answer with a problem of the table. `detail` says what would mend it. */
export class ProblemError extends ProblemAnswer {
  override readonly name = 'ProblemError';

  constructor(
    readonly code: ProblemCode,
    detail: string,
    { errors, headers }: ProblemExtras = {},
  ) {
    super(problemDocument(code, detail, errors), headers);
  }
}

function problemType(code: string): string {
  return `urn:heatbook:problem:${code}`;
}

export function problemDocument(code: ProblemCode, detail: string, errors?: readonly FieldProblem[]): ProblemDocument {
  const { status, title } = PROBLEMS[code];
  return { type: problemType(code), title, status, detail, ...(errors && { errors }) };
}
