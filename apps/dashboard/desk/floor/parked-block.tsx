import { useInfiniteQuery } from '@tanstack/react-query';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { Block } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { parkedGroups } from './parked-groups.js';
import { ParkedGroup } from './parked-group.js';
import { RetriedList } from './retried-list.js';
import { useRetries } from './use-retries.js';
import './parked.css';

const PARKED_ROWS = 200;
const RENEW_MS = 30_000;

/** Events that wait for the setup to be mended, by what is the matter with them, with another try. */
export function ParkedBlock() {
  const retries = useRetries();
  const parked = useInfiniteQuery({
    queryKey: keys.parked,
    queryFn: ({ pageParam }) => {
      const query = { limit: PARKED_ROWS, ...(pageParam !== null && { cursor: pageParam }) };
      return dataOf(api.GET('/v1/events/parked', { params: { query } }));
    },
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
    refetchInterval: RENEW_MS,
  });
  return (
    <Block title="Parked events" note="Kept, and not in the book yet: they name what the setup does not have.">
      <RetriedList retries={retries} />
      <Loaded query={parked} what="parked events">
        {({ pages }) => {
          const events = pages.flatMap(({ items }) => items);
          if (events.length === 0) {
            return (
              <Empty title="Nothing is parked.">
                <p>Every event that came could be judged, or waits to be.</p>
              </Empty>
            );
          }
          return (
            <>
              {parkedGroups(events).map((group) => (
                <ParkedGroup key={group.code} group={group} retries={retries} />
              ))}
              {parked.hasNextPage && (
                <Button busy={parked.isFetchingNextPage} onClick={() => void parked.fetchNextPage()}>
                  Show more parked events
                </Button>
              )}
            </>
          );
        }}
      </Loaded>
    </Block>
  );
}
