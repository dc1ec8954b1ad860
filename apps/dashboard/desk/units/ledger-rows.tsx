import { useMemo } from 'react';
import { VirtualRows } from '../kit/virtual-rows.js';
import type { Entry } from './entry-parts.js';
import type { HoldFinder } from './ledger-holds.js';
import { LedgerEntry } from './ledger-entry.js';
import { pageOfSeq, seqOfRow } from './ledger-places.js';
import { type LedgerOrder, type LedgerSource, useLedgerPage } from './ledger-queries.js';
import type { LaterWords } from './ledger-story.js';

/** What all lists of entries are given. */
export interface EntryListProps {
  readonly source: LedgerSource;
  readonly order: LedgerOrder;
  readonly later: LaterWords;
  readonly findHold: HoldFinder;
  readonly isOpen: (seq: number) => boolean;
  readonly onToggle: (seq: number, open: boolean) => void;
}

interface LedgerRowsProps extends EntryListProps {
  /** How many there are. */
  readonly entries: number;
  readonly reveal: { readonly key: string } | undefined;
}

/** Of an entry that is told in one line. */
export const ENTRY_ROW_PX = 44;

/** All entries of a ledger, of which only what comes into sight is fetched. */
export function LedgerRows({ source, order, later, findHold, isOpen, onToggle, entries, reveal }: LedgerRowsProps) {
  const rows = useMemo(
    () => Array.from({ length: entries }, (_, row) => seqOfRow(row, entries, order)),
    [entries, order],
  );
  return (
    <VirtualRows
      label="Entries of the ledger"
      rows={rows}
      rowHeightPx={ENTRY_ROW_PX}
      rowKey={String}
      reveal={reveal}
      render={(seq) => (
        <PagedEntry
          {...{ source, seq, later, findHold }}
          open={isOpen(seq)}
          onToggle={(open) => {
            onToggle(seq, open);
          }}
        />
      )}
    />
  );
}

interface PagedEntryProps {
  readonly source: LedgerSource;
  readonly seq: number;
  readonly later: LaterWords;
  readonly findHold: HoldFinder;
  readonly open: boolean;
  readonly onToggle: (open: boolean) => void;
}

/** An entry by its number: it has the page fetched that it stands on. */
function PagedEntry({ source, seq, later, findHold, open, onToggle }: PagedEntryProps) {
  const page = useLedgerPage(source, pageOfSeq(seq));
  const entry: Entry | undefined = page.data?.get(seq);
  if (entry !== undefined) return <LedgerEntry {...{ source, entry, later, findHold, open, onToggle }} />;
  return (
    <p className="ledger-entry ledger-entry--missing">
      <span className="ledger-entry__seq">{seq}</span>
      <span>{page.isError ? 'could not be fetched; it is tried again when you come back to it' : 'fetching …'}</span>
    </p>
  );
}
