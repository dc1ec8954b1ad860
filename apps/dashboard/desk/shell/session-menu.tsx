import { useMutation, useQueryClient } from '@tanstack/react-query';
import { api, dataOf, holdCsrfToken } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { useSession } from '../session/session-gate.js';

/** Who has signed in, in which roles, and the way out. */
export function SessionMenu() {
  const { printedName, roles, customer } = useSession();
  const queries = useQueryClient();
  const signOut = useMutation({
    mutationFn: () => dataOf(api.DELETE('/v1/session')),
    onSettled: () => {
      holdCsrfToken(null);
      queries.clear();
      queries.setQueryData(keys.session, null);
    },
  });
  return (
    <div className="session">
      <p>
        <strong>{printedName}</strong>
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
    </div>
  );
}
