import { FieldProblem, problemIn, ServiceProblem } from './service-problem.js';

/** The service said no, or could not be understood; the message says what would mend it. */
export class ServiceRefused extends Error {
  override readonly name = 'ServiceRefused';

  /** @param problem what it answered, where it answered */
  constructor(message: string, { problem, ...options }: ErrorOptions & { readonly problem?: ServiceProblem } = {}) {
    super(message, options);
    this.problem = problem;
  }

  readonly problem: ServiceProblem | undefined;
}

/** Whether fetch failed so: no connection was to be had, or it ended early. By name, since fetch has a realm of its own. */
export function isBrokenOff(error: unknown): boolean {
  return typeof error === 'object' && error !== null && 'name' in error && error.name === 'TypeError';
}

/** Whether no answer came within `timeoutMs`. */
export function isTimedOut(error: unknown): boolean {
  return typeof error === 'object' && error !== null && 'name' in error && error.name === 'TimeoutError';
}

export interface AskOptions {
  /** Media type of a body that is sent as it is. */
  readonly type?: string;
  readonly headers?: Readonly<Record<string, string>>;
  /** For how long an answer is waited for; as long as fetch does where left out. */
  readonly timeoutMs?: number;
}

/** As large as the service lets a page be. */
const PAGE_SIZE = 500;

/** Talks to the service with a key. */
export class ServiceClient {
  constructor(
    readonly url: string,
    private readonly key: string | undefined,
  ) {}

  /** @throws ServiceRefused, and what fetch throws where no answer comes: `isBrokenOff`, `isTimedOut` */
  async ask(
    method: string,
    path: string,
    body?: object | Uint8Array<ArrayBuffer>,
    { timeoutMs, type = 'application/json', headers }: AskOptions = {},
  ): Promise<Record<string, unknown>> {
    const response = await this.send(method, path, {
      headers: { ...headers, ...(body !== undefined && { 'content-type': type }) },
      ...(body !== undefined && { body: body instanceof Uint8Array ? body : JSON.stringify(body) }),
      ...(timeoutMs !== undefined && { signal: AbortSignal.timeout(timeoutMs) }),
    });
    if (!response.ok) throw await this.refusal(response);
    const text = await response.text();
    if (text === '') return {};
    const answer = parsed(text);
    if (typeof answer === 'object' && answer !== null) return answer as Record<string, unknown>;
    throw new ServiceRefused(`${this.url} does not answer as Heatbook does: is HEATBOOK_URL right?`);
  }

  /** All items of a list, page by page. @throws as `ask` does */
  async list(path: string): Promise<Record<string, unknown>[]> {
    const found: Record<string, unknown>[] = [];
    let cursor: unknown = null;
    do {
      const query = new URLSearchParams({ limit: String(PAGE_SIZE), ...(typeof cursor === 'string' && { cursor }) });
      const page = await this.ask('GET', `${path}?${query.toString()}`);
      if (!Array.isArray(page['items'])) throw new ServiceRefused(`${this.url}${path} does not answer with a list`);
      found.push(...(page['items'] as Record<string, unknown>[]));
      cursor = page['nextCursor'];
    } while (typeof cursor === 'string');
    return found;
  }

  /** Whatever it answers. @throws TypeError where the service cannot be reached */
  send(
    method: string,
    path: string,
    init: { headers?: Record<string, string>; body?: string | Uint8Array<ArrayBuffer>; signal?: AbortSignal },
  ): Promise<Response> {
    const headers = { ...init.headers, ...(this.key !== undefined && { authorization: `Bearer ${this.key}` }) };
    return fetch(new URL(path, this.url), { ...init, method, headers });
  }

  /** What a problem document says: its detail in one line, then a line for each member that it names. */
  async refusal(response: Response): Promise<ServiceRefused> {
    const problem = problemIn(response.status, await response.text());
    const lines = [
      `${this.url} answered ${String(response.status)}: ${problem.detail}`,
      ...problem.errors.map(errorLine),
    ];
    if (response.status === 401 && this.key === undefined) lines.push('  HEATBOOK_KEY is not set: put the key there.');
    return new ServiceRefused(lines.join('\n'), { problem });
  }
}

function errorLine({ pointer, detail }: FieldProblem): string {
  return `  ${pointer === '' ? 'the body' : pointer} ${detail}`;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
