import type { KeyboardEvent } from 'react';
import { useRole } from '../session/session-gate.js';
import { rowAt } from './desk-pages.js';
import { DeskRow } from './desk-row.js';
import type { Picked } from './desk-selection.js';
import type { DeskListAtWork } from './use-desk-list.js';

interface DeskRowsProps {
  readonly desk: DeskListAtWork;
  /** Undefined for those who assign nothing. */
  readonly picked: Picked | undefined;
  readonly total: number | undefined;
  readonly onPick: (index: number, stretch: boolean) => void;
  readonly onKeyDown: (event: KeyboardEvent) => void;
}

const HEADS = {
  why: 'Why it is held',
  what: 'What is held',
  from: 'From',
  raised: 'Age',
  work: 'Work',
};

/** The rows that are in sight, in a box that scrolls by itself and takes the keyboard as one. */
export function DeskRows({ desk, picked, total, onPick, onKeyDown }: DeskRowsProps) {
  const { pages, cursor, known, more, list, setBox, on } = desk;
  const { measureElement } = list;
  const isCustomer = useRole('customer');
  return (
    <>
      <div className="desk-list__heads" aria-hidden="true">
        {Object.entries(HEADS).map(([name, head]) => (
          <span key={name} className={`desk-row__${name}`}>
            {head}
          </span>
        ))}
      </div>
      <div
        ref={setBox}
        className="desk-list__box"
        role="list"
        aria-label={isCustomer ? 'Holds on your boards' : 'Holds'}
        aria-describedby="desk-keys-hint"
        tabIndex={0}
        onKeyDown={onKeyDown}
        {...on}
      >
        <div className="desk-list__all" style={{ height: list.getTotalSize() }} role="presentation">
          {list.getVirtualItems().map(({ index, key, start }) => {
            const at = rowAt(pages, index);
            return (
              <div
                key={key}
                ref={measureElement}
                data-index={index}
                role="listitem"
                aria-posinset={index + 1}
                aria-setsize={total ?? (more ? -1 : known)}
                className="desk-list__row"
                style={{ transform: `translateY(${start}px)` }}
              >
                {at === undefined ? (
                  <p className="desk-row desk-row--waiting">Fetching …</p>
                ) : (
                  <DeskRow
                    hold={at.row}
                    gone={at.gone}
                    isCursor={index === (cursor ?? 0)}
                    picked={picked?.has(at.row.id)}
                    index={index}
                    onPick={onPick}
                  />
                )}
              </div>
            );
          })}
        </div>
      </div>
    </>
  );
}
