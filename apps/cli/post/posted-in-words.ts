import { NotPosted, Posted } from './event-poster.js';

/** How many became what, in one line. */
export function countInWords({ accepted, duplicates, rejected }: Posted): string {
  const told = [
    [accepted, 'accepted'],
    [duplicates, 'in the book already'],
    [rejected.length, 'rejected'],
  ] as const;
  const some = told.filter(([count]) => count > 0).map(([count, what]) => `${String(count)} ${what}`);
  return some.length === 0 ? 'no event was answered for' : some.join(', ');
}

/** Why an event is not in the book: a line for the whole, and one for each member that is named besides. */
export function rejectionInWords(name: string, { where, id, problem }: NotPosted): readonly string[] {
  const { status, detail = 'it is not said why', errors = [] } = problem;
  const place = [name, where].filter((part) => part !== '').join(' ');
  const event = id === null ? '' : ` (id ${id})`;
  return [
    `${place}${event}: ${String(status)} ${detail}`,
    // The first is in the detail.
    ...errors.slice(1).map((error) => `  ${error.pointer}: ${error.detail}`),
  ];
}
