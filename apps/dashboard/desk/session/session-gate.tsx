import { useQuery } from '@tanstack/react-query';
import { createContext, type ReactNode, useContext } from 'react';
import { ApiProblem } from '../api/api-problem.js';
import { api, dataOf, holdCsrfToken, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Failure, Waiting } from '../kit/states.js';
import { SignInPage } from './sign-in-page.js';

export type Session = Schemas['Session'];
export type Role = Session['roles'][number];

const SessionContext = createContext<Session | null>(null);

/** Who has signed in. @throws Error outside the gate */
export function useSession(): Session {
  const session = useContext(SessionContext);
  if (session === null) throw new Error('Nobody has signed in: this belongs inside the SessionGate.');
  return session;
}

/** Whether the one who has signed in has any of these roles. Only hides what the API would refuse. */
export function useRole(...roles: readonly Role[]): boolean {
  return useSession().roles.some((role) => roles.includes(role));
}

async function readSession(): Promise<Session | null> {
  try {
    const session = await dataOf(api.GET('/v1/session'));
    holdCsrfToken(session.csrfToken);
    return session;
  } catch (error) {
    if (error instanceof ApiProblem && error.status === 401) return null;
    throw error;
  }
}

/** Shows what is inside to whoever has signed in, and the sign-in to others, at the same address. */
export function SessionGate({ children }: { readonly children: ReactNode }) {
  const session = useQuery({ queryKey: keys.session, queryFn: readSession, staleTime: Infinity });
  if (session.isPending) return <Waiting what="the desk" />;
  if (session.isError) return <Failure error={session.error} retry={() => void session.refetch()} />;
  if (session.data === null) return <SignInPage />;
  return <SessionContext value={session.data}>{children}</SessionContext>;
}
