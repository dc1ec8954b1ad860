/** One member that a problem names: a JSON Pointer and what is wrong there. */
export interface FieldProblem {
  readonly pointer: string;
  readonly detail: string;
}

/** A problem document (RFC 9457) as far as the command line tells of it. */
export interface ServiceProblem {
  readonly status: number;
  /** What comes after the last colon of its type; empty where the answer is no problem document. */
  readonly code: string;
  readonly detail: string;
  readonly errors: readonly FieldProblem[];
  /** As it came. */
  readonly document: Readonly<Record<string, unknown>>;
}

/** What stands between, such as a proxy, answers with whole pages. */
const LONGEST_DETAIL = 500;

/** Reads what came with a status that is no success; an answer of something else than the service is its own detail. */
export function problemIn(status: number, text: string): ServiceProblem {
  const document = objectIn(text);
  const { type, detail, errors } = document ?? {};
  const said = typeof detail === 'string' ? detail : text.trim().slice(0, LONGEST_DETAIL);
  return {
    status,
    code: typeof type === 'string' ? type.slice(type.lastIndexOf(':') + 1) : '',
    detail: said === '' ? 'nothing more is said' : said,
    errors: Array.isArray(errors) ? errors.filter(isFieldProblem) : [],
    document: document ?? { status, detail: said },
  };
}

function objectIn(text: string): Record<string, unknown> | undefined {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : undefined;
  } catch {
    return undefined;
  }
}

function isFieldProblem(value: unknown): value is FieldProblem {
  if (typeof value !== 'object' || value === null || !('pointer' in value) || !('detail' in value)) return false;
  return typeof value.pointer === 'string' && typeof value.detail === 'string';
}
