import { useMemo, useState } from 'react';
import { useSearchParams } from 'wouter';
import { Empty, Loaded } from '../kit/states.js';
import { LedgerBar } from './ledger-bar.js';
import { LedgerOfType } from './ledger-of-type.js';
import { pageOfSeq, seqTyped } from './ledger-places.js';
import {
  type LedgerOrder,
  type LedgerSource,
  useHoldFinder,
  useLaterWords,
  useLedgerPage,
  useNewestEntry,
} from './ledger-queries.js';
import { LedgerRows } from './ledger-rows.js';
import './ledger.css';

interface LedgerProps {
  /** The same for as long as the ledger is shown: give another a key of its own. */
  readonly source: LedgerSource;
}

/** The ledger of a board or a device. Its address names the order, the type that is looked for, and the entry that is opened. */
export function Ledger({ source }: LedgerProps) {
  const newest = useNewestEntry(source);
  const later = useLaterWords(source);
  const findHold = useHoldFinder(source);
  const [params, setParams] = useSearchParams();
  const [jumps, setJumps] = useState(0);
  const [unfolded, setUnfolded] = useState<ReadonlyMap<number, boolean>>(new Map());
  const order: LedgerOrder = params.get('order') === 'asc' ? 'asc' : 'desc';
  const type = params.get('type') ?? '';
  const typed = params.get('seq');

  const change = (name: string, value: string | null) => {
    setParams(
      (before) => {
        const next = new URLSearchParams(before);
        if (value === null || value === '') next.delete(name);
        else next.set(name, value);
        if (name === 'seq') next.delete('type');
        if (name === 'type') next.delete('seq');
        return next;
      },
      { replace: true },
    );
  };

  return (
    <Loaded query={newest} what="the ledger">
      {(entry) => {
        if (entry === null) return <Empty title="There is no entry yet." />;
        const target = typed === null ? undefined : seqTyped(typed, entry.seq);
        const rows = {
          ...{ source, order, later, findHold },
          isOpen: (seq: number) => unfolded.get(seq) ?? seq === target,
          onToggle: (seq: number, open: boolean) => {
            setUnfolded(new Map(unfolded).set(seq, open));
          },
        };
        return (
          <div className="ledger">
            <LedgerBar
              {...{ kind: source.kind, order, type, entries: entry.seq }}
              onChange={change}
              onJump={(seq) => {
                setUnfolded(new Map());
                setJumps(jumps + 1);
                change('seq', String(seq));
              }}
            />
            {typed !== null && target === undefined && (
              <p className="field__error" role="alert">
                There is no entry {typed}: the ledger has 1 to {entry.seq}.
              </p>
            )}
            {type === '' ? (
              <AllRows {...rows} entries={entry.seq} target={target} jumps={jumps} />
            ) : (
              <LedgerOfType {...rows} type={type} />
            )}
          </div>
        );
      }}
    </Loaded>
  );
}

type AllRowsProps = Omit<Parameters<typeof LedgerRows>[0], 'reveal'> & {
  readonly target: number | undefined;
  /** How often somebody asked to be brought to an entry. */
  readonly jumps: number;
};

function AllRows({ target, jumps, ...rows }: AllRowsProps) {
  const { source, order } = rows;
  // Heights are known once entries are there: then what was brought into sight is brought there again.
  const { isSuccess } = useLedgerPage(source, pageOfSeq(target ?? 1));
  const reveal = useMemo(
    () => (target === undefined ? undefined : { key: String(target), order, jumps, isSuccess }),
    [target, order, jumps, isSuccess],
  );
  return <LedgerRows {...rows} reveal={reveal} />;
}
