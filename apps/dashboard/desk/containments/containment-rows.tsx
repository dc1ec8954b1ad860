import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { When } from '../kit/when.js';
import { paths } from '../paths.js';
import { causeInWords } from './cause-wish.js';
import { ContainmentState } from './containment-state.js';

/** Containments as a table, the newest first. */
export function ContainmentRows({ items }: { readonly items: readonly Schemas['Containment'][] }) {
  return (
    <div className="scroll-x" tabIndex={0} role="region" aria-label="Containments">
      <table className="rows">
        <thead>
          <tr>
            <th scope="col">Cause</th>
            <th scope="col">From</th>
            <th scope="col">To</th>
            <th scope="col">Signed</th>
            <th scope="col">By</th>
            <th scope="col">What happened</th>
            <th scope="col">How it stands</th>
          </tr>
        </thead>
        <tbody>
          {items.map((one) => (
            <ContainmentRow key={one.id} containment={one} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function ContainmentRow({ containment }: { readonly containment: Schemas['Containment'] }) {
  const { id, cause, requestedAt, rounds } = containment;
  return (
    <tr>
      <th scope="row">
        <Link href={paths.containment(id)}>{causeInWords(cause)}</Link>
      </th>
      <td>
        <When at={cause.from} />
      </td>
      <td>
        <When at={cause.to} />
      </td>
      <td>
        <When at={requestedAt} />
      </td>
      <td>{rounds[0]?.signature.printedName}</td>
      <td className="containment-note">{rounds[0]?.note}</td>
      <td>
        <ContainmentState of={containment} />
      </td>
    </tr>
  );
}
