import { Button } from '../kit/button.js';
import { useRole } from '../session/session-gate.js';
import { DeskTake } from './desk-take.js';
import type { DeskFilter } from './desk-filter.js';
import { DeskPickAll } from './desk-pick-all.js';
import type { Picked } from './desk-selection.js';
import { groupsOf, holdsInWords } from './desk-words.js';
import type { HoldPages } from './use-desk-pages.js';

interface DeskListBarProps {
  readonly filter: DeskFilter;
  readonly total: number | undefined;
  readonly picked: Picked;
  /** Whether this person may assign what is shown. */
  readonly picks: boolean;
  readonly pages: HoldPages;
  readonly onPicked: (picked: Picked) => void;
  readonly onAssign: () => void;
  readonly onKeys: () => void;
  readonly onRenew: () => void;
}

/** Above the list: what can be done with what is selected, and what was held back so that no row moves under a hand. */
export function DeskListBar(props: DeskListBarProps) {
  const { picked, picks, pages, onPicked, onAssign, onKeys, onRenew } = props;
  return (
    <div className="desk-list__bar">
      <div className="desk-list__acts">
        {picks && picked.size > 0 ? (
          <>
            <Button tone="main" onClick={onAssign}>
              Assign {holdsInWords(picked.size)}
            </Button>
            <DeskTake picked={picked} onPicked={onPicked} />
            <DeskPickAll {...props} />
            <Button
              tone="bare"
              onClick={() => {
                onPicked(new Map());
              }}
            >
              Select nothing
            </Button>
          </>
        ) : (
          <Hint picks={picks} />
        )}
      </div>
      <News pages={pages} onRenew={onRenew} />
      <Button tone="bare" onClick={onKeys}>
        Keys
      </Button>
    </div>
  );
}

function Hint({ picks }: { readonly picks: boolean }) {
  const isCustomer = useRole('customer');
  return (
    <p id="desk-keys-hint" className="quiet">
      {picks
        ? 'Select holds to give them out together.'
        : isCustomer
          ? 'Open one to see all of it.'
          : 'Open one to see all of it, and what may be done.'}{' '}
      <span className="unseen">In the list, arrows or j and k go from hold to hold, and Enter opens one.</span>
    </p>
  );
}

/** What came and went meanwhile. Said once it stands still, and let in only when somebody wants it. */
function News({ pages, onRenew }: { readonly pages: HoldPages; readonly onRenew: () => void }) {
  const arrived = pages.reduce((sum, page) => sum + page.arrived, 0);
  const gone = pages.reduce((sum, { gone: { size } }) => sum + size, 0);
  const words = [
    arrived > 0 && `${groupsOf(arrived)} new ${arrived === 1 ? 'hold' : 'holds'}`,
    gone > 0 && `${groupsOf(gone)} no longer here`,
  ].filter((part) => part !== false);
  return (
    <div className={`desk-list__news${words.length > 0 ? ' desk-list__news--some' : ''}`}>
      <span role="status">{words.join(', ')}</span>
      {words.length > 0 && <Button onClick={onRenew}>Show</Button>}
    </div>
  );
}
