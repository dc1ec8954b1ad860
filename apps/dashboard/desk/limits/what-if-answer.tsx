import { Refusal } from '../kit/refusal.js';
import { Button } from '../kit/button.js';
import { Loaded } from '../kit/states.js';
import { When } from '../kit/when.js';
import { useCustomers } from './limit-queries.js';
import { MovedList } from './moved-list.js';
import { SumsTable } from './sums-table.js';
import { showsAll, sumOf, sumsByCustomer, type WhatIf } from './what-if-sums.js';
import './what-if-answer.css';

interface WhatIfAnswerProps {
  readonly whatIf: WhatIf;
  readonly unit: string;
  readonly adopting: boolean;
  readonly refused: unknown;
  readonly onAdopt: () => void;
}

/** What a revision would change in the house, and the button that adopts it. */
export function WhatIfAnswer({ whatIf, unit, adopting, refused, onAdopt }: WhatIfAnswerProps) {
  const { assessed, why, revision, effectiveAt } = whatIf;
  return (
    <section className="what-if" aria-label="What would change">
      <h3>
        Revision {revision} would take effect <When at={effectiveAt} />
      </h3>
      {assessed ? (
        <Changes whatIf={whatIf} unit={unit} />
      ) : (
        <p>
          <strong>Nothing in the house is judged anew.</strong> {why}
        </p>
      )}
      <p className="quiet">Verdicts that were given stay as they are. Nothing has been changed yet.</p>
      <Refusal error={refused} />
      <Button tone="main" busy={adopting} onClick={onAdopt}>
        {adoptWords(whatIf)}
      </Button>
    </section>
  );
}

function Changes({ whatIf, unit }: { readonly whatIf: WhatIf; readonly unit: string }) {
  const { examined, newlyInBreach, noLongerInBreach } = whatIf;
  const inHouse = `${examined.units} units with what is on them and ${examined.looseDevices} loose devices`;
  if (newlyInBreach.total + noLongerInBreach.total === 0) {
    return (
      <p>
        <strong>Everything in the house would stand as it does now.</strong> Looked at: {inHouse}.
      </p>
    );
  }
  return (
    <>
      <p>
        Looked at: {inHouse}. <strong>{newlyInBreach.total}</strong> would stand worse,{' '}
        <strong>{noLongerInBreach.total}</strong> better.
        {!showsAll(whatIf) && ' The counts below are of the first 500 of either; all of them would be gone through.'}
      </p>
      <ByCustomer whatIf={whatIf} />
      <div className="what-if__lists">
        <MovedList title="Would stand worse" moved={newlyInBreach.items} total={newlyInBreach.total} unit={unit} />
        <MovedList
          title="Would stand better"
          moved={noLongerInBreach.items}
          total={noLongerInBreach.total}
          unit={unit}
        />
      </div>
    </>
  );
}

function ByCustomer({ whatIf }: { readonly whatIf: WhatIf }) {
  return (
    <Loaded query={useCustomers()} what="whose the assemblies are">
      {(customers) => (
        <SumsTable rows={sumsByCustomer(whatIf, (assembly) => customers.get(assembly) ?? 'Customer not known')} />
      )}
    </Loaded>
  );
}

/** What the button does, with the holds that it raises where all of them were counted. */
function adoptWords(whatIf: WhatIf): string {
  const { held } = sumOf(sumsByCustomer(whatIf, () => ''));
  const adopt = `Adopt revision ${whatIf.revision}`;
  if (held === 0 || !showsAll(whatIf)) return adopt;
  return `${adopt} and raise ${held} ${held === 1 ? 'hold' : 'holds'}`;
}
