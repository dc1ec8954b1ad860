import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import { api, dataOf } from '../api/client.js';
import { keys } from '../api/keys.js';
import { Graveness } from '../kit/marks.js';
import { Block } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { subjectName } from '../kit/subject-link.js';
import { Ago } from '../kit/when.js';
import { paths } from '../paths.js';
import { reasonWords } from '../words/words.js';
import { holdsAt } from './holds-at.js';

const HOLD_ROWS = 8;

/** Open holds that came to light by this station, the gravest first. */
export function StationHolds({ station }: { readonly station: string }) {
  const query = { station, state: 'open', order: 'graveness', limit: HOLD_ROWS } as const;
  const holds = useQuery({
    queryKey: keys.holds(query),
    queryFn: () => dataOf(api.GET('/v1/holds', { params: { query } })),
  });
  return (
    <Block title="Open holds from it" beside={<Link href={holdsAt(station)}>All of them on the desk</Link>}>
      <Loaded query={holds} what="its holds">
        {({ items, nextCursor }) =>
          items.length === 0 ? (
            <Empty title="Nothing that it did is on hold." />
          ) : (
            <>
              <table className="rows">
                <thead>
                  <tr>
                    <th scope="col">Graveness</th>
                    <th scope="col">On hold</th>
                    <th scope="col">Why</th>
                    <th scope="col">Since</th>
                  </tr>
                </thead>
                <tbody>
                  {items.map(({ id, graveness, subject, reason, raisedAt }) => (
                    <tr key={id}>
                      <td>{graveness !== undefined && <Graveness level={graveness} />}</td>
                      <th scope="row">
                        <Link className="mono" href={paths.hold(id)}>
                          {subjectName(subject)}
                        </Link>
                      </th>
                      <td>{reasonWords(reason)}</td>
                      <td>
                        <Ago at={raisedAt} />
                      </td>
                    </tr>
                  ))}
                </tbody>
              </table>
              {nextCursor !== null && <p className="station-page__more quiet">These are the first {items.length}.</p>}
            </>
          )
        }
      </Loaded>
    </Block>
  );
}
