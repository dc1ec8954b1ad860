import { Role } from '../../libs/ledger/identity/principal.js';
import { HttpAnswer } from './http-answer.js';

/** A person with an account of their own, who has signed in as a browser would. */
export interface SignedInPerson {
  readonly name: string;
  readonly password: string;
  /** Calls the API with the session's cookie and token. */
  call(method: string, path: string, body?: unknown): Promise<HttpAnswer>;
  /** The session's cookie and token, for requests of another kind. */
  readonly headers: Readonly<Record<string, string>>;
  /** What goes into a body as its signature. */
  signature(meaning?: string): { readonly password: string; readonly meaning: string };
}

export interface NewPerson {
  readonly name: string;
  readonly roles: readonly Role[];
  /** With role customer. */
  readonly customer?: string;
}

/**
 * Has the admin make an account, and signs it in.
 * @throws Error where either is refused
 */
export async function signInPerson(url: string, adminKey: string, person: NewPerson): Promise<SignedInPerson> {
  const { name } = person;
  const password = `the password of ${name}`;
  const made = await send(url, 'POST', '/v1/people', {
    headers: { authorization: `Bearer ${adminKey}` },
    body: { ...person, printedName: `${name} in print`, password },
  });
  const answer = await send(url, 'POST', '/v1/session', { headers: {}, body: { name, password } });
  if (made.status !== 201 || answer.status !== 200) {
    throw new Error(`${name} cannot sign in: ${JSON.stringify([made.body, answer.body])}`);
  }
  const [cookie = ''] = (answer.headers.get('set-cookie') ?? '').split(';');
  const headers = { cookie, 'x-csrf-token': String(answer.body['csrfToken']) };
  return {
    name,
    password,
    headers,
    call: (method, path, body) => send(url, method, path, { headers, body }),
    signature: (meaning = 'seen and decided') => ({ password, meaning }),
  };
}

async function send(
  url: string,
  method: string,
  path: string,
  { headers, body }: { headers: Readonly<Record<string, string>>; body?: unknown },
): Promise<HttpAnswer> {
  const response = await fetch(`${url}${path}`, {
    method,
    headers: { ...headers, ...(body !== undefined && { 'content-type': 'application/json' }) },
    ...(body !== undefined && { body: typeof body === 'string' ? body : JSON.stringify(body) }),
  });
  const text = await response.text();
  const parsed: unknown = text === '' ? {} : JSON.parse(text);
  return { status: response.status, headers: response.headers, body: parsed as Record<string, unknown> };
}
