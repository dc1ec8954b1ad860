import { type KeyboardEvent, useCallback, useEffect, useRef, useState } from 'react';
import { asProblem } from '../api/api-problem.js';
import { Failure, Waiting } from '../kit/states.js';
import { useRole } from '../session/session-gate.js';
import { DeskAssign } from './desk-assign.js';
import type { DeskFilter } from './desk-filter.js';
import { type DeskAct, deskAct } from './desk-keys.js';
import { DeskKeysHelp } from './desk-keys-help.js';
import { DeskListBar } from './desk-list-bar.js';
import { DeskListEnd } from './desk-list-end.js';
import { DeskNothing } from './desk-nothing.js';
import { markAt } from './desk-pages.js';
import { DeskRows } from './desk-rows.js';
import { type Picked, stretched, toggled, without } from './desk-selection.js';
import { useDeskList } from './use-desk-list.js';
import './desk-list.css';

interface DeskListProps {
  readonly filter: DeskFilter;
  /** How many match, where it is known. */
  readonly total: number | undefined;
}

const NOTHING: Picked = new Map();

/** The holds that match, to be gone through, opened and given out. A filter of its own is a list of its own. */
export function DeskList({ filter, total }: DeskListProps) {
  const desk = useDeskList(filter);
  const { pages, cursor, known, more, error } = desk;
  const [picked, setPicked] = useState(NOTHING);
  const [open, setOpen] = useState<'assign' | 'keys' | null>(null);
  // Released holds are assigned to nobody, whoever asks.
  const picks = useRole('quality', 'approver', 'admin') && filter.state === 'open';
  const isCustomer = useRole('customer');
  const onPick = usePicking(pages, setPicked);

  const actBy: Readonly<Record<Exclude<DeskAct['act'], 'move'>, () => void>> = {
    pick: () => {
      if (cursor !== null) onPick(cursor, false);
    },
    assign: () => {
      const mark = cursor === null ? undefined : markAt(pages, cursor);
      if (picked.size === 0 && mark !== undefined) setPicked(toggled(NOTHING, mark));
      if (picked.size > 0 || mark !== undefined) setOpen('assign');
    },
    clear: () => {
      setPicked(NOTHING);
    },
    renew: desk.renew,
    help: () => {
      setOpen('keys');
    },
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const meant = deskAct(event);
    if (meant === undefined || (!picks && ['pick', 'assign', 'clear'].includes(meant.act))) return;
    event.preventDefault();
    if (meant.act !== 'move') {
      actBy[meant.act]();
      return;
    }
    const place = desk.goTo(cursor === null ? desk.firstInSight : cursor + meant.by);
    if (meant.stretch && picks) setPicked((before) => stretched(before, pages, cursor ?? place, place));
  };

  if (pages.length === 0) {
    return error === null ? <Waiting what="the holds" /> : <Failure error={error} retry={desk.retry} />;
  }
  if (known === 0) return <DeskNothing filter={filter} />;
  return (
    <section
      className={`desk-list${picks ? ' desk-list--picks' : ''}${isCustomer ? ' desk-list--customer' : ''}`}
      aria-labelledby="desk-list-title"
    >
      <h2 id="desk-list-title" className="unseen">
        Holds that match
      </h2>
      <DeskListBar
        {...{ filter, total, picked, picks, pages }}
        onPicked={setPicked}
        onAssign={() => {
          setOpen('assign');
        }}
        onKeys={actBy.help}
        onRenew={desk.renew}
      />
      {error !== null && (
        <p className="state__old" role="status">
          Not renewed: {asProblem(error).detail}
        </p>
      )}
      <DeskRows {...{ desk, total, onPick, onKeyDown }} picked={picks ? picked : undefined} />
      <DeskListEnd known={known} more={more} total={total} />
      {open === 'keys' && (
        <DeskKeysHelp
          picks={picks}
          onClose={() => {
            setOpen(null);
          }}
        />
      )}
      {open === 'assign' && (
        <DeskAssign
          picked={picked}
          onDone={(ids) => {
            setPicked((before) => without(before, ids));
          }}
          onClose={() => {
            setOpen(null);
          }}
        />
      )}
    </section>
  );
}

/** Picking a row by its place, or, stretched, all from the one picked before. */
function usePicking(
  pages: ReturnType<typeof useDeskList>['pages'],
  change: (by: (before: Picked) => Picked) => void,
): (index: number, stretch: boolean) => void {
  const latest = useRef(pages);
  const before = useRef<number>(undefined);
  useEffect(() => {
    latest.current = pages;
  });
  return useCallback(
    (index, stretch) => {
      const [list, from] = [latest.current, before.current];
      const mark = markAt(list, index);
      before.current = index;
      if (mark === undefined) return;
      change((picked) =>
        stretch && from !== undefined ? stretched(picked, list, from, index) : toggled(picked, mark),
      );
    },
    [change],
  );
}
