import { useSearchParams } from 'wouter';
import { asProblem } from '../api/api-problem.js';
import { Page } from '../kit/page.js';
import { Ago } from '../kit/when.js';
import { useRole } from '../session/session-gate.js';
import { DeskCountsBlock } from './desk-counts-block.js';
import { DeskFilterBar } from './desk-filter-bar.js';
import { type DeskFilter, isNarrowed, readFilter, writeFilter } from './desk-filter.js';
import { DeskList } from './desk-list.js';
import { groupsOf, holdsInWords } from './desk-words.js';
import { type HoldSummary, useDeskCounts } from './use-desk-counts.js';
import { useSettled } from './use-settled.js';
import './desk-page.css';

/** The hold desk: what stands still and needs somebody, gravest first; what is shown is in the address. */
export default function DeskPage() {
  const [params, setParams] = useSearchParams();
  const isCustomer = useRole('customer');
  const filter = readFilter(params);
  const { counts, error } = useDeskCounts(filter);
  const onFilter = (to: DeskFilter) => {
    setParams(writeFilter(to));
  };
  const total = filter.state === 'open' ? counts?.all.open : undefined;
  return (
    <Page
      title={isCustomer ? 'Holds on your boards' : 'Holds'}
      beside={counts && filter.state === 'open' && <Standing summary={counts.all} isNarrowed={isNarrowed(filter)} />}
    >
      <DeskFilterBar {...{ filter, counts, onFilter }} />
      <div className="desk-page">
        <DeskList key={writeFilter(filter).toString()} filter={filter} total={total} />
        <div className="desk-page__beside">
          {filter.state !== 'open' && <p className="quiet">Counts are of open holds alone.</p>}
          {counts === undefined && error !== null && <p className="quiet">Not counted: {asProblem(error).title}.</p>}
          {filter.state === 'open' && counts !== undefined && <DeskCountsBlock {...{ filter, counts, onFilter }} />}
        </div>
      </div>
    </Page>
  );
}

/** Counts change at once and are said once they stand. */
const SAID_MS = 1500;

function Standing({ summary, isNarrowed }: { readonly summary: HoldSummary; readonly isNarrowed: boolean }) {
  const { open, oldestRaisedAt } = summary;
  const said = useSettled(`${holdsInWords(open)} open${isNarrowed ? ' and matching' : ''}`, SAID_MS);
  return (
    <>
      <p className="desk-page__standing">
        <strong>{groupsOf(open)}</strong> open{isNarrowed && ', as narrowed down'}
        {oldestRaisedAt !== null && (
          <>
            ; the oldest raised <Ago at={oldestRaisedAt} />
          </>
        )}
      </p>
      <span className="unseen" role="status">
        {said}
      </span>
    </>
  );
}
