import { useInfiniteQuery } from '@tanstack/react-query';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { Block, Page } from '../kit/page.js';
import { Empty, Failure, Waiting } from '../kit/states.js';
import { useRole } from '../session/session-gate.js';
import { ContainmentReaders } from './containment-readers.js';
import { ContainmentRows } from './containment-rows.js';
import { isAtWork } from './containment-state.js';
import { NewContainment } from './new-containment.js';
import './containments.css';

const PAGE = 50;
/** How often the list is looked at while one of them is at work. */
const WATCH_EVERY_MS = 3000;

/** What was found to be wrong for a while: hold everything that it touched, and watch those that were held before. */
export default function ContainmentsPage() {
  return (
    <ContainmentReaders>
      <Containments />
    </ContainmentReaders>
  );
}

function Containments() {
  const mayContain = useRole('quality');
  return (
    <Page title="Containment">
      {mayContain ? (
        <NewContainment />
      ) : (
        <p className="quiet containment-role">Only quality contains. Your role reads what was contained.</p>
      )}
      <Block title="Contained so far">
        <ContainmentList />
      </Block>
    </Page>
  );
}

function ContainmentList() {
  const all = useInfiniteQuery({
    queryKey: keys.containments,
    queryFn: ({ pageParam }) => {
      const query = { limit: PAGE, ...(pageParam !== null && { cursor: pageParam }) };
      return dataOf(api.GET('/v1/containments', { params: { query } }));
    },
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
    refetchInterval: ({ state: { data } }) =>
      data?.pages.some(({ items }) => items.some(isAtWork)) === true ? WATCH_EVERY_MS : false,
  });
  if (all.isPending) return <Waiting what="containments" />;
  if (all.data === undefined) return <Failure error={all.error} retry={() => void all.refetch()} />;
  const items = all.data.pages.flatMap((page) => page.items);
  if (items.length === 0) {
    return (
      <Empty title="Nothing was ever contained.">
        <p>When a station, a profile or a lot turns out to have been wrong, everything that it touched is held here.</p>
      </Empty>
    );
  }
  return (
    <>
      <ContainmentRows items={items} />
      {all.hasNextPage && (
        <Button busy={all.isFetchingNextPage} onClick={() => void all.fetchNextPage()}>
          Show {PAGE} more
        </Button>
      )}
    </>
  );
}
