import { Tally } from '../kit/tally.js';
import { basisWords } from '../words/words.js';
import { type Budget, leftInWords } from './budget-words.js';
import './budget-left.css';

const SIGNS = { plain: '', caution: '! ', stop: '✕ ' } as const;

interface BudgetLeftProps {
  readonly budget: Budget;
  /** The figure that one comes for: large, with what it rests on. */
  readonly large?: boolean;
}

/** What is left of a budget: the figure, its notches, and what makes it doubtful. */
export function BudgetLeft({ budget, large = false }: BudgetLeftProps) {
  const { figure, of, tone, doubt } = leftInWords(budget);
  const asides = [
    ...(large ? [`Basis: ${basisWords(budget.basis)}`] : []),
    ...(budget.reserved > 0 ? [`${budget.reserved} reserved`] : []),
    ...(doubt === null ? [] : [doubt]),
  ];
  return (
    <div className={`budget-left budget-left--${tone} ${large ? 'budget-left--large' : ''}`}>
      <p className="budget-left__words">
        {SIGNS[tone] !== '' && <span aria-hidden="true">{SIGNS[tone]}</span>}
        <strong>{figure}</strong> {of}
      </p>
      {budget.allowed !== null && <Tally {...budget} allowed={budget.allowed} />}
      {asides.length > 0 && <p className="budget-left__basis">{asides.join('; ')}</p>}
    </div>
  );
}
