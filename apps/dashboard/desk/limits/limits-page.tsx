import { HouseOnly } from '../kit/house-only.js';
import { Button } from '../kit/button.js';
import { Block, Page } from '../kit/page.js';
import { Loaded } from '../kit/states.js';
import { useRole } from '../session/session-gate.js';
import { useLimits } from './limit-queries.js';
import { LimitsTable } from './limits-table.js';
import { NewLimit } from './new-limit.js';
import './limits-page.css';

/** What is allowed, to whom, and where the figure comes from. */
export default function LimitsPage() {
  return (
    <HouseOnly title="Limits">
      <AllLimits />
    </HouseOnly>
  );
}

function AllLimits() {
  const limits = useLimits();
  const mayRevise = useRole('quality', 'admin');
  return (
    <Page title="Limits">
      <Block
        title="All limits"
        note="Of the limits of a kind the one that fits most closely governs; of two that fit alike, the stricter. A concession may
          loosen one for a single subject."
      >
        <Loaded query={limits} what="the limits">
          {({ pages }) => <LimitsTable limits={pages.flatMap(({ items }) => items)} />}
        </Loaded>
        {limits.hasNextPage && (
          <Button busy={limits.isFetchingNextPage} onClick={() => void limits.fetchNextPage()}>
            Show more limits
          </Button>
        )}
      </Block>
      {mayRevise && <NewLimit />}
    </Page>
  );
}
