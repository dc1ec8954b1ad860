import { type Listed, markAt, type ShownPage } from './desk-pages.js';

/** Holds picked to be assigned: their ids, each with its due date. */
export type Picked = ReadonlyMap<string, string | null>;

/** As many as can be picked: more is the work of several people, and is narrowed down first. */
export const MOST_PICKED = 2_000;

interface Mark {
  readonly id: string;
  readonly dueAt: string | null;
}

/** Takes one in, or out again. */
export function toggled(picked: Picked, { id, dueAt }: Mark): Picked {
  if (!picked.has(id)) return taken(picked, [{ id, dueAt }]);
  const fewer = new Map(picked);
  fewer.delete(id);
  return fewer;
}

/** Takes these in as well, as far as there is room. */
export function taken(picked: Picked, marks: Iterable<Mark>): Picked {
  const more = new Map(picked);
  for (const { id, dueAt } of marks) {
    if (more.size >= MOST_PICKED) break;
    more.set(id, dueAt);
  }
  return more;
}

/** Takes in everything from one place of the list to another, both included. */
export function stretched<Row extends Listed>(
  picked: Picked,
  pages: readonly ShownPage<Row>[],
  from: number,
  to: number,
): Picked {
  const marks: Mark[] = [];
  for (let index = Math.min(from, to); index <= Math.max(from, to) && marks.length < MOST_PICKED; index += 1) {
    const mark = markAt(pages, index);
    if (mark !== undefined) marks.push(mark);
  }
  return taken(picked, marks);
}

/** Without those that are done with. */
export function without(picked: Picked, ids: readonly string[]): Picked {
  const fewer = new Map(picked);
  for (const id of ids) fewer.delete(id);
  return fewer;
}
