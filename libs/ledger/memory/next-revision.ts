import { SetupData, SetupKind } from '../../domain/setup/setup-data.js';
import { StoredRevision } from '../ports/setup-store.js';

/** What a record's next revision is after all those that are known, or the newest one where its body is the same. */
export function nextRevision<K extends SetupKind>(
  known: readonly StoredRevision[],
  wish: {
    readonly kind: K;
    readonly name: string;
    readonly body: SetupData[K];
    readonly by: string;
    readonly at: string;
  },
): { readonly revision: StoredRevision; readonly isNew: boolean } {
  const newest = known.findLast(({ kind, name }) => kind === wish.kind && name === wish.name);
  if (newest !== undefined && sortedJson(newest.body) === sortedJson(wish.body))
    return { revision: newest, isNew: false };
  const { kind, name, body, by, at } = wish;
  const numbers = { revision: (newest?.revision ?? 0) + 1, version: known.length + 1 };
  const row = JSON.stringify({ kind, name, ...numbers, body, by, at });
  return { revision: JSON.parse(row) as StoredRevision, isNew: true };
}

/** JSON text that does not depend on the order in which members were written. */
function sortedJson(value: unknown): string {
  return JSON.stringify(value, (_key, member: unknown) =>
    typeof member === 'object' && member !== null && !Array.isArray(member)
      ? Object.fromEntries(Object.entries(member).sort(([a], [b]) => (a < b ? -1 : 1)))
      : member,
  );
}
