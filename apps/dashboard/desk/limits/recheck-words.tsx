import { Mark } from '../kit/marks.js';
import { When } from '../kit/when.js';
import type { Recheck } from './limit-queries.js';

interface RecheckWordsProps {
  readonly recheck: Recheck;
  /** Figures and reasons too. */
  readonly full?: boolean;
}

/** How far going through what is in the house has come. */
export function RecheckWords({ recheck, full = false }: RecheckWordsProps) {
  const { state, why, effectiveAt, subjects } = recheck;
  switch (state) {
    case 'none':
      return full ? (
        <span className="quiet">Nothing judged anew. {why}</span>
      ) : (
        <span className="quiet">none needed</span>
      );
    case 'waiting':
      return (
        <span>
          <Mark tone="caution">waits</Mark> for <When at={effectiveAt} />
        </span>
      );
    case 'running':
      return (
        <span>
          <Mark tone="caution">going on</Mark> {subjects} gone through so far{full && <Figures recheck={recheck} />}
        </span>
      );
    case 'done':
      return (
        <span>
          <Mark tone="good">done</Mark> {subjects} gone through{full && <Figures recheck={recheck} />}
        </span>
      );
  }
}

function Figures({ recheck }: { readonly recheck: Recheck }) {
  const { holdsRaised, holdsWithdrawn, holdsMarked, warnings } = recheck;
  return (
    <>
      : {holdsRaised} holds raised, {holdsWithdrawn} withdrawn, {holdsMarked} marked as without a cause, {warnings}{' '}
      warnings
    </>
  );
}
