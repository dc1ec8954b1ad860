import { Button } from '../kit/button.js';
import { Empty, Loaded } from '../kit/states.js';
import { VirtualRows } from '../kit/virtual-rows.js';
import { LedgerEntry } from './ledger-entry.js';
import { useEntriesOfType } from './ledger-queries.js';
import { ENTRY_ROW_PX, type EntryListProps } from './ledger-rows.js';

interface LedgerOfTypeProps extends EntryListProps {
  readonly type: string;
}

/** The entries of one type, page after page as one comes to their end. */
export function LedgerOfType({ source, order, later, findHold, isOpen, onToggle, type }: LedgerOfTypeProps) {
  const found = useEntriesOfType(source, type, order);
  return (
    <Loaded query={found} what="the entries">
      {({ pages }) => {
        const rows = pages.flatMap(({ items }) => items);
        if (rows.length === 0) return <Empty title="The ledger has no entry of this kind." />;
        return (
          <>
            <VirtualRows
              label="Entries of this kind"
              rows={rows}
              rowHeightPx={ENTRY_ROW_PX}
              rowKey={({ seq }) => String(seq)}
              onEnd={found.hasNextPage && !found.isFetchingNextPage ? () => void found.fetchNextPage() : undefined}
              render={(entry) => (
                <LedgerEntry
                  {...{ source, entry, later, findHold }}
                  open={isOpen(entry.seq)}
                  onToggle={(open) => {
                    onToggle(entry.seq, open);
                  }}
                />
              )}
            />
            <p className="quiet ledger__end">
              {rows.length} of this kind{found.hasNextPage ? ' so far' : ''}
              {found.isStale && (
                <Button tone="bare" onClick={() => void found.refetch()}>
                  Look for newer ones
                </Button>
              )}
            </p>
          </>
        );
      }}
    </Loaded>
  );
}
