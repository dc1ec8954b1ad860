import { useInfiniteQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { Mark } from '../kit/marks.js';
import { Failure, Waiting } from '../kit/states.js';
import { SubjectLink } from '../kit/subject-link.js';
import { paths } from '../paths.js';
import { stageWords } from '../words/words.js';
import { whereWords } from './contained-words.js';
import { TouchedBy } from './touched-by.js';
import type { ContainedHolds } from './use-contained-holds.js';

const PAGE = 100;

interface ContainedUnitsProps {
  readonly id: string;
  readonly holds: ContainedHolds | undefined;
  /** Rounds that were signed for: more than one, where it was repeated. */
  readonly rounds: number;
  /** Holds that all rounds have made: with each more there is more to fetch. */
  readonly all: number;
}

/** What a containment holds or has held, each with how its hold stands; more is fetched as it is asked for. */
export function ContainedUnits({ id, holds, rounds, all }: ContainedUnitsProps) {
  const units = useInfiniteQuery({
    queryKey: [...keys.containment(id), 'units', all],
    queryFn: ({ pageParam }) =>
      dataOf(
        api.GET('/v1/containments/{id}/units', {
          params: { path: { id }, query: { limit: PAGE, ...(pageParam !== null && { cursor: pageParam }) } },
        }),
      ),
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
  });
  if (units.isPending) return <Waiting what="what it holds" />;
  if (units.data === undefined) return <Failure error={units.error} retry={() => void units.refetch()} />;
  const items = units.data.pages.flatMap((page) => page.items);
  if (items.length === 0) return <p>Nothing: the cause had touched nothing by then.</p>;
  return (
    <>
      <div className="scroll-x" tabIndex={0} role="region" aria-label="What it holds">
        <table className="rows">
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">Whose</th>
              <th scope="col">Where it is</th>
              <th scope="col">Touched by</th>
              {rounds > 1 && <th scope="col">Round</th>}
              <th scope="col">Its hold</th>
            </tr>
          </thead>
          <tbody>
            {items.map((item) => (
              <tr key={item.key}>
                <th scope="row">
                  <SubjectLink subject={item.subject} />
                </th>
                <td>{item.customer ?? 'nobody’s'}</td>
                <td>{item.state === 'shipped' ? <Mark tone="stop">shipped</Mark> : whereWords(item.state)}</td>
                <td>
                  <TouchedBy item={item} />
                </td>
                {rounds > 1 && <td>{item.round}</td>}
                <td>
                  <HowItStands item={item} holds={holds} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {units.hasNextPage && (
        <Button busy={units.isFetchingNextPage} onClick={() => void units.fetchNextPage()}>
          Show {PAGE} more
        </Button>
      )}
    </>
  );
}

interface HowItStandsProps {
  readonly item: Schemas['Contained'];
  readonly holds: ContainedHolds | undefined;
}

function HowItStands({ item, holds }: HowItStandsProps) {
  const hold = holds?.byId.get(item.hold);
  const link = <Link href={paths.hold(item.hold)}>its hold</Link>;
  if (hold === undefined) return holds?.isAll === true ? <>released, {link}</> : link;
  return (
    <>
      <Mark tone="stop">held</Mark> {stageWords(hold.stage).toLowerCase()}
      {hold.assignee !== null && `, ${hold.assignee}`}, {link}
    </>
  );
}
