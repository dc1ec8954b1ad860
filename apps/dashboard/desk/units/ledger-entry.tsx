import { useId } from 'react';
import { Link } from 'wouter';
import { Mark } from '../kit/marks.js';
import { When } from '../kit/when.js';
import { paths } from '../paths.js';
import { reasonWords } from '../words/words.js';
import { effectsOf, type Entry } from './entry-parts.js';
import { actorInWords, countedInShort, entryInWords } from './entry-words.js';
import { heldKey, type HoldFinder, holdsCalled } from './ledger-holds.js';
import { LedgerEntryMore } from './ledger-entry-more.js';
import type { LedgerSource } from './ledger-queries.js';
import { laterOf, type LaterWords } from './ledger-story.js';

interface LedgerEntryProps {
  readonly source: LedgerSource;
  readonly entry: Entry;
  readonly later: LaterWords;
  readonly findHold: HoldFinder;
  readonly open: boolean;
  readonly onToggle: (open: boolean) => void;
}

/** An entry of a ledger: when, what, who, what it counted; opened, all that it has. */
export function LedgerEntry({ source, entry, later, findHold, open, onToggle }: LedgerEntryProps) {
  const more = useId();
  const { title } = entryInWords(entry);
  const { struckBy, anew } = laterOf(entry, later);
  const counted = countedInShort(anew === null ? entry : { effects: [...anew.effects] });
  const holds = struckBy === null ? holdsCalled(anew?.effects ?? effectsOf(entry)) : [];
  return (
    <article
      className={`ledger-entry ${struckBy === null ? '' : 'ledger-entry--struck'}`}
      aria-label={`Entry ${entry.seq}`}
    >
      <button
        type="button"
        className="ledger-entry__seq"
        aria-expanded={open}
        aria-controls={more}
        aria-label={`Entry ${entry.seq}, ${title}`}
        onClick={() => {
          onToggle(!open);
        }}
      >
        {entry.seq}
      </button>
      <When at={entry.time} />
      <div className="ledger-entry__what">
        <span className="ledger-entry__title">{struckBy === null ? title : <s>{title}</s>}</span>
        {struckBy !== null && <Mark tone="stop">struck by entry {struckBy}</Mark>}
        {anew !== null && <Mark tone="caution">judged anew by entry {anew.seq}</Mark>}
        {struckBy === null && counted.length > 0 && (
          <span className="ledger-entry__counted">counts {counted.join(', ')}</span>
        )}
        {holds.map((hold) => {
          const id = findHold(hold, entry.event, entry.time);
          const words = `Hold: ${reasonWords(hold.reason)}`;
          return id === undefined ? (
            <span key={heldKey(hold)} className="ledger-entry__hold">
              {words}
            </span>
          ) : (
            <Link key={heldKey(hold)} className="ledger-entry__hold" href={paths.hold(id)}>
              {words}
            </Link>
          );
        })}
      </div>
      <span className="ledger-entry__who">{actorInWords(entry.actor, entry.signer?.printedName)}</span>
      <div id={more} className="ledger-entry__more" hidden={!open}>
        {open && <LedgerEntryMore {...{ source, entry, struckBy, anew }} />}
      </div>
    </article>
  );
}
