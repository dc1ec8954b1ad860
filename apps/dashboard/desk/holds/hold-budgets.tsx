import { subjectName } from '../kit/subject-link.js';
import { BudgetBars } from '../units/budget-bars.js';
import { otherBudgets } from './hold-budget.js';
import type { ExplainedHold } from './hold-shape.js';
import './hold-budgets.css';

/** What else its subject has spent and has left, folded away. */
export function HoldBudgets({ hold }: { readonly hold: ExplainedHold }) {
  const groups = otherBudgets(hold);
  if (groups.length === 0) return null;
  const count = groups.reduce((sum, group) => sum + group.length, 0);
  return (
    <details className="hold-budgets">
      <summary>
        What else it has spent: {count} {count === 1 ? 'tally' : 'tallies'}
      </summary>
      {groups.map((group) => {
        const name = subjectName(group[0].subject);
        return <BudgetBars key={name} title={name} budgets={group} />;
      })}
    </details>
  );
}
