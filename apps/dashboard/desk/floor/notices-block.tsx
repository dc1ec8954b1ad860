import { useInfiniteQuery } from '@tanstack/react-query';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { Block } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { NoticeRow } from './notice-row.js';
import './notices.css';

const OPEN = { state: 'open' } as const;
const NOTICE_ROWS = 30;
const RENEW_MS = 60_000;

/** What runs out, or has, and nobody sees to yet; the earliest first. */
export function NoticesBlock() {
  const notices = useInfiniteQuery({
    queryKey: keys.notices(OPEN),
    queryFn: ({ pageParam }) => {
      const query = { ...OPEN, limit: NOTICE_ROWS, ...(pageParam !== null && { cursor: pageParam }) };
      return dataOf(api.GET('/v1/notices', { params: { query } }));
    },
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
    refetchInterval: RENEW_MS,
  });
  return (
    <Block
      title="What falls due"
      note="Calibrations, qualifications, floor lives and the dates of holds. A notice stops nothing."
    >
      <Loaded query={notices} what="what falls due">
        {({ pages }) => {
          const items = pages.flatMap((page) => page.items);
          if (items.length === 0) {
            return (
              <Empty title="Nothing falls due that nobody sees to.">
                <p>A notice comes days before a calibration or a qualification runs out, hours before a floor life.</p>
              </Empty>
            );
          }
          return (
            <>
              <ul className="notices">
                {items.map((notice) => (
                  <NoticeRow key={notice.id} notice={notice} />
                ))}
              </ul>
              {notices.hasNextPage && (
                <Button busy={notices.isFetchingNextPage} onClick={() => void notices.fetchNextPage()}>
                  Show more
                </Button>
              )}
            </>
          );
        }}
      </Loaded>
    </Block>
  );
}
