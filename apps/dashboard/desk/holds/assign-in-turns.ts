import { type ApiProblem, asProblem } from '../api/api-problem.js';

/** Holds that are given to the same person by the same date; the API takes so many of them at once. */
export interface Turn {
  readonly holds: readonly string[];
  readonly assignee: string | null;
  /** RFC 3339; null for no date. */
  readonly dueAt: string | null;
}

const MOST_A_TURN = 200;

/** What is to become of due dates: all get one (null: none), or each hold keeps its own. */
type DueWish = { readonly dueAt: string | null } | 'as-it-is';

/** Who gets which holds, cut into turns: each is assigned as a whole or not at all. */
export function turnsOf(
  picked: ReadonlyMap<string, string | null>,
  assignee: string | null,
  due: DueWish,
): readonly Turn[] {
  const byDate = new Map<string | null, string[]>();
  for (const [id, itsOwn] of picked) {
    const dueAt = due === 'as-it-is' ? itsOwn : due.dueAt;
    const same = byDate.get(dueAt);
    if (same === undefined) byDate.set(dueAt, [id]);
    else same.push(id);
  }
  return [...byDate].flatMap(([dueAt, ids]) =>
    Array.from({ length: Math.ceil(ids.length / MOST_A_TURN) }, (_, n) => {
      return { holds: ids.slice(n * MOST_A_TURN, (n + 1) * MOST_A_TURN), assignee, dueAt };
    }),
  );
}

/** What came of assigning: what has been, what was refused and why, and why the rest was not tried. */
export interface AssignOutcome {
  readonly assigned: readonly string[];
  readonly refused: readonly { readonly id: string; readonly problem: ApiProblem }[];
  readonly stopped: ApiProblem | null;
}

/** Refusals that are about one hold of many. */
const ABOUT_ONE = new Set(['hold-not-open', 'not-found']);

/**
 * Assigns turn by turn. A turn that is refused because of one of its holds is halved until that one is found, so that the
 * others are assigned all the same. What is about none of them (no such person, no answer) ends it.
 * @param tell called with how many holds are done with
 * @param signal ends it before the next request
 */
export async function assignInTurns(
  turns: readonly Turn[],
  send: (turn: Turn) => Promise<unknown>,
  { tell, signal }: { readonly tell: (done: number) => void; readonly signal: AbortSignal },
): Promise<AssignOutcome> {
  const assigned: string[] = [];
  const refused: { id: string; problem: ApiProblem }[] = [];
  const waiting = [...turns];
  for (let turn = waiting.shift(); turn !== undefined && !signal.aborted; turn = waiting.shift()) {
    try {
      await send(turn);
      assigned.push(...turn.holds);
    } catch (error) {
      const problem = asProblem(error);
      const [first, ...others] = turn.holds;
      if (first === undefined || !ABOUT_ONE.has(problem.code)) return { assigned, refused, stopped: problem };
      if (others.length === 0) refused.push({ id: first, problem });
      else waiting.unshift(...halves(turn));
    }
    tell(assigned.length + refused.length);
  }
  return { assigned, refused, stopped: null };
}

function halves(turn: Turn): readonly Turn[] {
  const middle = Math.ceil(turn.holds.length / 2);
  return [
    { ...turn, holds: turn.holds.slice(0, middle) },
    { ...turn, holds: turn.holds.slice(middle) },
  ];
}
