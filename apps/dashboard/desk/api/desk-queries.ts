import { MutationCache, QueryCache, QueryClient } from '@tanstack/react-query';
import { ApiProblem } from './api-problem.js';
import { keys } from './keys.js';

/** Nothing is asked twice within it; the stream says when something has changed. */
const FRESH_MS = 15_000;
const TRIES = 2;

/** The answers that pages show, kept while they are of use. */
export const deskQueries: QueryClient = new QueryClient({
  defaultOptions: {
    queries: {
      staleTime: FRESH_MS,
      // What is wrong with the request stays wrong; only what may pass is tried again.
      retry: (failures, error) => failures < TRIES && !(error instanceof ApiProblem && error.status < 500),
    },
  },
  queryCache: new QueryCache({ onError: noteSignedOut }),
  mutationCache: new MutationCache({ onError: noteSignedOut }),
});

/** A session that has ended shows the sign-in again, at the same address. */
function noteSignedOut(error: unknown): void {
  if (error instanceof ApiProblem && error.status === 401) deskQueries.setQueryData(keys.session, null);
}
