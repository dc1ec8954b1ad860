import createClient, { type Middleware } from 'openapi-fetch';
import { problemOf } from './api-problem.js';
import type { components, paths } from './schema.js';

/** Shapes of the API by name. */
export type Schemas = components['schemas'];

let csrfToken: string | null = null;

/** What changes something needs the token of the session beside its cookie. */
export function holdCsrfToken(token: string | null): void {
  csrfToken = token;
}

const guard: Middleware = {
  onRequest: ({ request }) => {
    if (csrfToken !== null && request.method !== 'GET') request.headers.set('X-CSRF-Token', csrfToken);
    return request;
  },
};

/** The public API, typed by its own document. */
export const api = createClient<paths>({ baseUrl: window.location.origin, credentials: 'same-origin' });
api.use(guard);

interface Answer<Data> {
  readonly data?: Data;
  readonly error?: unknown;
  readonly response: Response;
}

/**
 * The data of an answer.
 * @throws ApiProblem where the API answered a problem
 */
export async function dataOf<Data>(asked: Promise<Answer<Data>>): Promise<Data> {
  const { data, error, response } = await asked;
  if (!response.ok) throw problemOf(response.status, error);
  // Without content there is nothing to have: 204 is typed as undefined.
  return data as Data;
}
