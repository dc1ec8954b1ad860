import { useQuery } from '@tanstack/react-query';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { useRole } from '../session/session-gate.js';

const MOST_PEOPLE = 500;
const WORKING_ROLES: readonly string[] = ['quality', 'approver', 'operator'];

/** People who can work on holds, by name; undefined where this person may not see accounts, or they are not there yet. */
export function useAssignees(): readonly Schemas['Person'][] | undefined {
  const maySee = useRole('admin', 'quality', 'auditor');
  const { data } = useQuery({
    queryKey: keys.people,
    queryFn: () => dataOf(api.GET('/v1/people', { params: { query: { limit: MOST_PEOPLE } } })),
    enabled: maySee,
    select: ({ items }) =>
      items.filter(({ roles, disabled }) => !disabled && roles.some((role) => WORKING_ROLES.includes(role))),
  });
  return data;
}
