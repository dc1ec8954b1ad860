import type { ReactNode } from 'react';
import { Tally } from '../kit/tally.js';
import { basisWords, limitWords } from '../words/words.js';
import { BudgetExplained } from './budget-explained.js';
import { type Budget, leftInWords } from './budget-words.js';
import './budget-bars.css';

interface BudgetBarsProps {
  readonly title: string;
  readonly beside?: ReactNode;
  readonly budgets: readonly Budget[];
}

/** The budgets of one subject as bars, each of which opens to what explains it. */
export function BudgetBars({ title, beside, budgets }: BudgetBarsProps) {
  if (budgets.length === 0) return null;
  return (
    <section className="budget-bars">
      <h3>
        {title} {beside}
      </h3>
      {budgets.map((budget) => (
        <details key={budget.limit}>
          <summary>
            <span>{limitWords(budget.limit)}</span>
            <BudgetBar budget={budget} />
          </summary>
          <BudgetExplained budget={budget} />
        </details>
      ))}
    </section>
  );
}

function BudgetBar({ budget }: { readonly budget: Budget }) {
  const { used, reserved, possible, allowed, basis } = budget;
  const { figure, of, tone, doubt } = leftInWords(budget);
  return (
    <>
      <span className="budget-bars__bar">{allowed !== null && <Tally {...budget} allowed={allowed} />}</span>
      <span className={`budget-bars__left budget-bars__left--${tone}`}>
        {tone === 'stop' && <span aria-hidden="true">✕ </span>}
        <strong>{figure}</strong> {of}
      </span>
      <span>
        {used} used{reserved > 0 && `, ${reserved} reserved`}
        {possible > 0 && `, ${possible} possible`}
      </span>
      <span className="quiet">
        {basisWords(basis)}
        {doubt !== null && `; ${doubt}`}
      </span>
    </>
  );
}
