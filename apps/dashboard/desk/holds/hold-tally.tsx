import { Tally } from '../kit/tally.js';
import { inputsInWords } from '../units/budget-words.js';
import { limitWords } from '../words/words.js';
import { brokenBudget, figuresThen } from './hold-budget.js';
import type { ExplainedHold } from './hold-shape.js';
import './hold-tally.css';

/** The tally that broke, large, as it stood when it did; how it stands now, where that is different; what it is made of. */
export function HoldTally({ hold }: { readonly hold: ExplainedHold }) {
  const now = brokenBudget(hold);
  const then = now && figuresThen(hold, now);
  if (now === undefined || then == null) return null;
  const { used, allowed } = then;
  const isOther = now.used !== used || now.allowed !== allowed;
  return (
    <figure className="hold-tally" aria-label={limitWords(now.limit)}>
      <p className="hold-tally__figure">
        <strong>{used}</strong> of {allowed} allowed
      </p>
      <div>
        <Tally used={used} reserved={0} allowed={allowed} />
        <p>
          {limitWords(now.limit)}
          {isOther && (
            <strong>
              ; now {now.used} {now.allowed === null ? 'and no limit' : `of ${now.allowed}`}
              {now.rule?.concession !== undefined && ', by a concession'}
            </strong>
          )}
        </p>
        <p className="quiet">{inputsInWords(now).join('; ')}</p>
      </div>
    </figure>
  );
}
