import { SpecApi } from './start-api.js';

interface Answer {
  readonly status: number;
  readonly headers: Headers;
  readonly body: unknown;
}

/** What a browser does: it keeps the cookie that it was given and sends it along, and its page knows the session's token. */
export class Browser {
  /** As it goes into a Cookie header. */
  cookie: string | undefined;
  csrfToken: string | undefined;

  constructor(private readonly api: Pick<SpecApi, 'url'>) {}

  async signIn(name: string, password: string): Promise<Answer> {
    const answer = await this.ask('POST', '/v1/session', { name, password });
    if (typeof answer.body === 'object' && answer.body !== null && 'csrfToken' in answer.body) {
      this.csrfToken = String(answer.body.csrfToken);
    }
    return answer;
  }

  async ask(
    method: string,
    path: string,
    body?: unknown,
    more: Readonly<Record<string, string>> = {},
  ): Promise<Answer> {
    const response = await fetch(`${this.api.url}${path}`, {
      method,
      headers: {
        ...(this.cookie !== undefined && { cookie: this.cookie }),
        ...(this.csrfToken !== undefined && { 'x-csrf-token': this.csrfToken }),
        ...(body !== undefined && { 'content-type': 'application/json' }),
        ...more,
      },
      ...(body !== undefined && { body: JSON.stringify(body) }),
    });
    const given = response.headers.get('set-cookie')?.split(';', 1)[0];
    if (given !== undefined) this.cookie = given;
    const text = await response.text();
    return { status: response.status, headers: response.headers, body: text === '' ? undefined : JSON.parse(text) };
  }
}

/** Makes an account, with `password` or a word of its own. */
export async function addPerson(
  api: SpecApi,
  name: string,
  account: { roles: readonly string[]; customer?: string; password?: string },
): Promise<string> {
  const { password = `the long word of ${name}` } = account;
  const body = { name, printedName: `${name} in print`, ...account, password };
  const { status, text } = await api.ask('POST', '/v1/people', { body });
  if (status !== 201) throw new Error(text);
  return password;
}
