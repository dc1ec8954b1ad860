import { useVirtualizer } from '@tanstack/react-virtual';
import { type KeyboardEvent, type ReactNode, useEffect, useEffectEvent, useRef } from 'react';
import './virtual-rows.css';

interface VirtualRowsProps<Row> {
  /** Name of the list, for who does not see it. */
  readonly label: string;
  readonly rows: readonly Row[];
  /** How many there are in all, where it is known that more will come. */
  readonly total?: number;
  /** Expected height of a row, in px; rows are measured once they are there. */
  readonly rowHeightPx: number;
  readonly rowKey: (row: Row) => string;
  readonly render: (row: Row, index: number) => ReactNode;
  /** Called when the end comes into sight. */
  readonly onEnd?: (() => void) | undefined;
  /** The row to bring into sight, by its key; a new object brings it again. */
  readonly reveal?: { readonly key: string } | undefined;
}

/** Rows beyond these are drawn although they are out of sight, so that scrolling and tabbing find something. */
const OVERSCAN = 8;
/** Rows left in sight above one that is brought there. */
const ABOVE = 2;

/** A list of any length of which only what is in sight is drawn. It scrolls by itself and takes the keyboard. */
export function VirtualRows<Row>(props: VirtualRowsProps<Row>) {
  const { label, rows, total, rowHeightPx, rowKey, render, onEnd, reveal } = props;
  const box = useRef<HTMLDivElement>(null);
  const list = useVirtualizer({
    count: rows.length,
    getScrollElement: () => box.current,
    estimateSize: () => rowHeightPx,
    overscan: OVERSCAN,
    getItemKey: (index) => {
      const row = rows[index];
      return row === undefined ? index : rowKey(row);
    },
  });
  const drawn = list.getVirtualItems();
  const last = drawn.at(-1)?.index ?? -1;
  useEffect(() => {
    if (rows.length > 0 && last >= rows.length - 1 - OVERSCAN) onEnd?.();
  }, [last, rows.length, onEnd]);
  const bring = useEffectEvent((wanted: string) => {
    const index = rows.findIndex((row) => rowKey(row) === wanted);
    if (index >= 0) list.scrollToIndex(Math.max(0, index - ABOVE), { align: 'start' });
  });
  const filled = rows.length > 0;
  useEffect(() => {
    if (reveal !== undefined && filled) bring(reveal.key);
  }, [reveal, filled]);
  // Scrolling far takes the browser a while, and rows that are measured on the way would stop it.
  const leap = (event: KeyboardEvent) => {
    if (event.target !== event.currentTarget || (event.key !== 'Home' && event.key !== 'End')) return;
    event.preventDefault();
    list.scrollToIndex(event.key === 'Home' ? 0 : rows.length - 1);
  };
  return (
    <div
      ref={box}
      className="virtual-rows"
      role="list"
      aria-label={label}
      tabIndex={0}
      onKeyDown={leap}
      style={{ height: `min(70vh, calc(${list.getTotalSize()}px + 2px))` }}
    >
      <div className="virtual-rows__all" style={{ height: list.getTotalSize() }} role="presentation">
        {drawn.map(({ index, key, start }) => {
          const row = rows[index];
          return (
            row !== undefined && (
              <div
                key={key}
                ref={list.measureElement}
                data-index={index}
                role="listitem"
                aria-posinset={index + 1}
                aria-setsize={total ?? rows.length}
                className="virtual-rows__row"
                style={{ transform: `translateY(${start}px)` }}
              >
                {render(row, index)}
              </div>
            )
          );
        })}
      </div>
    </div>
  );
}
