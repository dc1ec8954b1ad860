import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { SubjectLink } from '../kit/subject-link.js';
import { When } from '../kit/when.js';
import { paths } from '../paths.js';
import { reasonWords } from '../words/words.js';
import { whereWords } from './contained-words.js';
import { TouchedBy } from './touched-by.js';

type Item = Schemas['DryRun']['items'][number];

interface DryRunItemsProps {
  readonly items: readonly Item[];
  readonly total: number;
}

/** Each unit and loose device that a cause has touched, by which entries, and what holds it already. */
export function DryRunItems({ items, total }: DryRunItemsProps) {
  const held = items.filter(({ holds }) => holds.length > 0).length;
  return (
    <>
      <p>
        {items.length === total
          ? `All ${String(total)} are listed`
          : `The first ${String(items.length)} of ${String(total)} are listed`}
        , {held === 0 ? 'none' : held} of them on hold already.
      </p>
      <div className="scroll-x" tabIndex={0} role="region" aria-label="Units and devices that it touched">
        <table className="rows">
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">Whose</th>
              <th scope="col">Where it is</th>
              <th scope="col">First touched</th>
              <th scope="col">By</th>
              <th scope="col">Open holds on it</th>
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
                  <When at={item.firstAt} />
                </td>
                <td>
                  <TouchedBy item={item} />
                </td>
                <td>
                  <HeldAlready holds={item.holds} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

function HeldAlready({ holds }: Pick<Item, 'holds'>) {
  if (holds.length === 0) return <span className="quiet">none</span>;
  return (
    <ul className="containment-list">
      {holds.map(({ id, reason, containment }) => (
        <li key={id}>
          <Link href={paths.hold(id)}>{reasonWords(reason)}</Link>
          {containment !== null && (
            <>
              , by <Link href={paths.containment(containment)}>a containment</Link>
            </>
          )}
        </li>
      ))}
    </ul>
  );
}
