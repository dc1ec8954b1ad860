import type { QueryClient } from '@tanstack/react-query';
import { holdCsrfToken, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';

/**
 * Goes on as whoever has just signed in, or, with null, as nobody. What somebody else may have seen before at this screen is
 * forgotten; the session itself stays watched, so that the page turns over at once.
 */
export function beginSession(queries: QueryClient, session: Schemas['Session'] | null): void {
  holdCsrfToken(session?.csrfToken ?? null);
  queries.setQueryData(keys.session, session);
  queries.removeQueries({ predicate: ({ queryKey }) => queryKey[0] !== keys.session[0] });
}
