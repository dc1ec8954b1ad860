import { useMutation } from '@tanstack/react-query';
import { useState } from 'react';
import { asProblem } from '../api/api-problem.js';
import { Button } from '../kit/button.js';
import { useSession } from '../session/session-gate.js';
import type { DeskFilter } from './desk-filter.js';
import { MOST_PICKED, type Picked, taken } from './desk-selection.js';
import { groupsOf } from './desk-words.js';
import { askPage } from './use-desk-pages.js';

/** As many as the API gives at once. */
const AT_ONCE = 500;

interface DeskPickAllProps {
  readonly filter: DeskFilter;
  readonly total: number | undefined;
  readonly picked: Picked;
  readonly onPicked: (picked: Picked) => void;
}

/** Selects everything that matches, as far as one selection goes, whether it is in sight or not. */
export function DeskPickAll({ filter, total, picked, onPicked }: DeskPickAllProps) {
  const { name } = useSession();
  const [found, setFound] = useState(0);
  const all = useMutation({
    mutationFn: () => pickAll(filter, name, setFound),
    onSuccess: onPicked,
  });
  if (total === undefined || picked.size >= Math.min(total, MOST_PICKED)) return null;
  const words = total > MOST_PICKED ? `Select the first ${groupsOf(MOST_PICKED)}` : `Select all ${groupsOf(total)}`;
  return (
    <>
      <Button
        busy={all.isPending}
        onClick={() => {
          all.mutate();
        }}
      >
        {all.isPending ? `Selecting, ${groupsOf(found)} so far` : words}
      </Button>
      {all.isError && (
        <span role="alert" className="form__error">
          {asProblem(all.error).detail}
        </span>
      )}
    </>
  );
}

async function pickAll(filter: DeskFilter, me: string, tell: (found: number) => void): Promise<Picked> {
  let picked: Picked = new Map();
  let cursor: string | null = null;
  do {
    const { items, nextCursor }: Awaited<ReturnType<typeof askPage>> = await askPage(filter, me, cursor, AT_ONCE);
    picked = taken(
      picked,
      items.map(({ id, dueAt }) => ({ id, dueAt: dueAt ?? null })),
    );
    cursor = nextCursor;
    tell(picked.size);
  } while (cursor !== null && picked.size < MOST_PICKED);
  return picked;
}
