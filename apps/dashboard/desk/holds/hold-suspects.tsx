import { Link } from 'wouter';
import { useRole } from '../session/session-gate.js';
import { suspectsOf } from './hold-contain.js';
import type { ExplainedHold } from './hold-shape.js';

/** Leads from a hold to a containment of what may have gone wrong for others too. */
export function HoldSuspects({ hold }: { readonly hold: ExplainedHold }) {
  const mayContain = useRole('quality');
  const suspects = mayContain ? suspectsOf(hold) : [];
  if (suspects.length === 0) return null;
  return (
    <section>
      <h3>Was it wrong for others too?</h3>
      <p className="quiet">See what else it touched that day, before anything is held:</p>
      <ul>
        {suspects.map(({ words, href }) => (
          <li key={words}>
            <Link href={href}>Contain {words}</Link>
          </li>
        ))}
      </ul>
    </section>
  );
}
