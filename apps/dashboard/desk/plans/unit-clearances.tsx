import type { Schemas } from '../api/client.js';
import { Block } from '../kit/page.js';
import { Loaded } from '../kit/states.js';
import { Ago } from '../kit/when.js';
import { useGranted } from '../units/unit-queries.js';
import { entryWords } from '../words/words.js';
import { GiveBack } from './give-back.js';

interface UnitClearancesProps {
  readonly assembly: string;
  readonly serial: string;
}

/** Clearances of a unit that are in force, each with the way to give it back. */
export function UnitClearances({ assembly, serial }: UnitClearancesProps) {
  const granted = useGranted(assembly, serial);
  return (
    <Block title={`Cleared now on ${assembly} / ${serial}`}>
      <Loaded query={granted} what="clearances">
        {({ items, nextCursor }) =>
          items.length === 0 ? (
            <p className="plan-said">Nothing: no station holds a clearance for this unit.</p>
          ) : (
            <div className="scroll-x" tabIndex={0} role="region" aria-label="Clearances in force">
              <table className="rows">
                <thead>
                  <tr>
                    <th scope="col">Clearance</th>
                    <th scope="col">Where and who</th>
                    <th scope="col">What for</th>
                    <th scope="col">Lapses</th>
                    <th scope="col">
                      <span className="unseen">What to do</span>
                    </th>
                  </tr>
                </thead>
                <tbody>
                  {items.map((clearance) => (
                    <tr key={clearance.id}>
                      <th scope="row" className="mono">
                        {clearance.id}
                      </th>
                      <td>
                        {clearance.station}, {clearance.operator}
                      </td>
                      <td>{stepsInWords(clearance)}</td>
                      <td>
                        <Ago at={clearance.expiresAt} />
                      </td>
                      <td>
                        <GiveBack id={clearance.id} assembly={assembly} serial={serial} />
                      </td>
                    </tr>
                  ))}
                </tbody>
              </table>
              {nextCursor !== null && <p className="quiet">and more, given before these</p>}
            </div>
          )
        }
      </Loaded>
    </Block>
  );
}

function stepsInWords({ steps }: Schemas['Clearance']): string {
  return steps
    .map(({ plan, usedBy }) => `${entryWords(plan.type).toLowerCase()}${usedBy === null ? '' : ' (done)'}`)
    .join(', ');
}
