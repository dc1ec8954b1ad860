import { useMemo } from 'react';
import { Button } from '../kit/button.js';
import { Block } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { useHoldFinder, useLedgerTail } from './ledger-queries.js';
import { ledgerStory } from './ledger-story.js';
import { RouteKey } from './route-key.js';
import { routeLayout } from './route-layout.js';
import { RouteLine } from './route-line.js';
import { RouteList } from './route-list.js';
import { routeSteps } from './route-steps.js';
import { useWide } from './use-wide.js';

interface UnitRouteProps {
  readonly assembly: string;
  readonly serial: string;
}

/** The way of a board through the house as a time line: lanes for board and sites, heats, bakes, holds and clearances. */
export default function UnitRoute({ assembly, serial }: UnitRouteProps) {
  const source = useMemo(() => ({ kind: 'unit', assembly, serial }) as const, [assembly, serial]);
  const tail = useLedgerTail(source);
  const findHold = useHoldFinder(source);
  const pages = tail.data?.pages;
  const layout = useMemo(
    () => routeLayout(routeSteps(ledgerStory((pages ?? []).flatMap(({ items }) => items))), findHold),
    [pages, findHold],
  );
  const wide = useWide();
  return (
    <Block title="Route" note="In the order in which it happened; a step leads to its entry in the ledger.">
      <Loaded query={tail} what="the route">
        {() => (
          <>
            {tail.hasNextPage && (
              <p className="quiet">
                The route began earlier than this.{' '}
                <Button busy={tail.isFetchingNextPage} onClick={() => void tail.fetchNextPage()}>
                  Show earlier steps
                </Button>
              </p>
            )}
            {layout.columns.length === 0 ? (
              <Empty title="Nothing has happened to this board yet." />
            ) : wide ? (
              <RouteLine source={source} layout={layout} />
            ) : (
              <RouteList source={source} layout={layout} />
            )}
            <RouteKey />
          </>
        )}
      </Loaded>
    </Block>
  );
}
