import type { Schemas } from '../api/client.js';
import { Block } from '../kit/page.js';
import { Loaded } from '../kit/states.js';
import { Ago } from '../kit/when.js';
import { useGranted } from './unit-queries.js';
import { plannedWords } from './unit-text.js';
import './unit-clearances.css';

/** What is cleared on the unit now: who may do what, where, and until when. What it reserves is in the budgets. Not for customers. */
export function UnitClearances({ unit }: { readonly unit: Schemas['Unit'] }) {
  const granted = useGranted(unit.assembly, unit.serial);
  return (
    <Block title="Cleared now">
      <Loaded query={granted} what="clearances">
        {({ items, nextCursor }) =>
          items.length === 0 ? (
            <p className="quiet">Nothing: no station holds a clearance for this unit.</p>
          ) : (
            <ul className="unit-clearances">
              {items.map((clearance) => (
                <li key={clearance.id}>
                  <span className="mono">{clearance.station}</span>, {clearance.operator}: {stepsInWords(clearance)};
                  lapses <Ago at={clearance.expiresAt} />
                </li>
              ))}
              {nextCursor !== null && <li className="quiet">and more</li>}
            </ul>
          )
        }
      </Loaded>
    </Block>
  );
}

function stepsInWords({ steps }: Schemas['Clearance']): string {
  return steps
    .map(({ plan, usedBy }) => {
      const refdes = typeof plan['refdes'] === 'string' ? `, ${plan['refdes']}` : '';
      return `${plannedWords(plan.type)}${refdes}${usedBy === null ? '' : ' (done)'}`;
    })
    .join('; ');
}
