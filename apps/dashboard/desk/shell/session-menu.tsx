import { useMutation, useQueryClient } from '@tanstack/react-query';
import { asProblem } from '../api/api-problem.js';
import { api, dataOf } from '../api/client.js';
import { Link } from 'wouter';
import { Button } from '../kit/button.js';
import { paths } from '../paths.js';
import { beginSession } from '../session/begin-session.js';
import { useSession } from '../session/session-gate.js';

/** Who has signed in, in which roles, and the way out. */
export function SessionMenu() {
  const { printedName, roles, customer } = useSession();
  const queries = useQueryClient();
  const signOut = useMutation({
    mutationFn: () => dataOf(api.DELETE('/v1/session')),
    onSuccess: () => {
      beginSession(queries, null);
    },
    // The cookie goes on until the service has ended the session: who leaves a shared screen must know.
    onError: (error) => {
      if (asProblem(error).status === 401) beginSession(queries, null);
    },
  });
  return (
    <div className="session">
      <p>
        <Link href={paths.people} title="Your account and its password">
          {printedName}
        </Link>
        <span className="quiet"> {customer ?? roles.join(', ')}</span>
      </p>
      <Button
        tone="bare"
        busy={signOut.isPending}
        onClick={() => {
          signOut.mutate();
        }}
      >
        Sign out
      </Button>
      {signOut.isError && <p role="alert">You are still signed in. {wayOut(signOut.error)}</p>}
    </div>
  );
}

function wayOut(error: unknown): string {
  const { status, detail } = asProblem(error);
  return status === 0 ? 'The service did not answer: try again.' : detail;
}
