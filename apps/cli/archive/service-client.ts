/** The service said no, or could not be understood; the message says what would mend it. */
export class ServiceRefused extends Error {
  override readonly name = 'ServiceRefused';
}

/** Whether fetch failed so: no connection was to be had, or it ended early. By name, since fetch has a realm of its own. */
export function isBrokenOff(error: unknown): boolean {
  return typeof error === 'object' && error !== null && 'name' in error && error.name === 'TypeError';
}

/** Talks to the service with a key. */
export class ServiceClient {
  constructor(
    private readonly url: string,
    private readonly key: string | undefined,
  ) {}

  /** @throws ServiceRefused, and TypeError where the service cannot be reached */
  async ask(method: string, path: string, body?: object): Promise<Record<string, unknown>> {
    const response = await this.send(method, path, {
      headers: body === undefined ? {} : { 'content-type': 'application/json' },
      ...(body !== undefined && { body: JSON.stringify(body) }),
    });
    if (!response.ok) throw await this.refusal(response);
    return (await response.json()) as Record<string, unknown>;
  }

  /** Whatever it answers. @throws TypeError where the service cannot be reached */
  send(method: string, path: string, init: { headers?: Record<string, string>; body?: string }): Promise<Response> {
    const headers = { ...init.headers, ...(this.key !== undefined && { authorization: `Bearer ${this.key}` }) };
    return fetch(new URL(path, this.url), { ...init, method, headers });
  }

  /** What a problem document says, in one line. */
  async refusal(response: Response): Promise<ServiceRefused> {
    const text = await response.text();
    return new ServiceRefused(`${this.url} answered ${String(response.status)}: ${inWords(text)}`);
  }
}

function inWords(text: string): string {
  try {
    const { detail, errors } = JSON.parse(text) as { detail?: unknown; errors?: unknown };
    if (typeof detail !== 'string') return text;
    return Array.isArray(errors) ? `${detail} ${JSON.stringify(errors)}` : detail;
  } catch {
    return text;
  }
}
