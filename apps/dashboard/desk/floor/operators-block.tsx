import { useInfiniteQuery } from '@tanstack/react-query';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Button } from '../kit/button.js';
import { Mark } from '../kit/marks.js';
import { Block } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { useNow } from '../kit/when.js';
import { dayOf } from './day-of.js';
import { type QualifiedLike, type SkillCell, skillCell, skillsOf } from './qualification-grid.js';

const OPERATOR_ROWS = 200;

/** Who may do what, and until when. */
export function OperatorsBlock() {
  const operators = useInfiniteQuery({
    queryKey: keys.operators,
    queryFn: ({ pageParam }) => {
      const query = { limit: OPERATOR_ROWS, ...(pageParam !== null && { cursor: pageParam }) };
      return dataOf(api.GET('/v1/operators', { params: { query } }));
    },
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
  });
  return (
    <Block title="Operators" note="Qualified for what, and the last day of it.">
      <Loaded query={operators} what="the operators">
        {({ pages }) => {
          const rows = pages.flatMap(({ items }) => items);
          if (rows.length === 0) {
            return (
              <Empty title="The setup has no operator yet.">
                <p>Steps by operators that it does not know are kept, with a warning.</p>
              </Empty>
            );
          }
          return (
            <>
              <SkillGrid operators={rows} />
              {operators.hasNextPage && (
                <Button busy={operators.isFetchingNextPage} onClick={() => void operators.fetchNextPage()}>
                  Show more operators
                </Button>
              )}
            </>
          );
        }}
      </Loaded>
    </Block>
  );
}

function SkillGrid({ operators }: { readonly operators: readonly QualifiedLike[] }) {
  const skills = skillsOf(operators);
  const nowMs = useNow();
  return (
    <div className="scroll-x" role="region" aria-label="Operators and skills" tabIndex={0}>
      <table className="rows skill-grid">
        <thead>
          <tr>
            <th scope="col">Operator</th>
            {skills.map((skill) => (
              <th key={skill} scope="col">
                {skill}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {operators.map((operator) => (
            <tr key={operator.name} id={`operator-${operator.name}`}>
              <th scope="row" className="mono">
                {operator.name}
              </th>
              {skills.map((skill) => (
                <td key={skill}>
                  <Cell cell={skillCell(operator, skill, nowMs)} />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Cell({ cell }: { readonly cell: SkillCell | undefined }) {
  if (cell === undefined) return <span className="quiet">no</span>;
  const day = dayOf(cell.validUntil);
  if (cell.standing === 'ran-out') return <Mark tone="stop">{day}, ended</Mark>;
  if (cell.standing === 'soon') return <Mark tone="caution">{day}, soon</Mark>;
  return <>{day}</>;
}
