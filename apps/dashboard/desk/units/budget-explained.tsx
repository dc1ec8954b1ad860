import { Link } from 'wouter';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { limitWords } from '../words/words.js';
import { type Budget, consequenceOf, inputsInWords, limitPageOf } from './budget-words.js';
import { HOUSE } from './unit-queries.js';
import './budget-explained.css';

/** Where a tally comes from: what was counted on which ground, the rule with its revision, and the source of its figure. */
export function BudgetExplained({ budget }: { readonly budget: Budget }) {
  const { rule, limit, used, allowed } = budget;
  const isHouse = useRole(...HOUSE);
  const page = isHouse ? limitPageOf(budget) : null;
  return (
    <section className="budget-explained">
      <h3>
        {limitWords(limit)}: {used} used{allowed !== null && `, ${allowed} allowed`}
      </h3>
      <dl className="facts">
        <dt>Made of</dt>
        <dd>{inputsInWords(budget).join('; ')}</dd>
        {rule !== null && (
          <>
            <dt>Limit</dt>
            <dd>
              {page === null ? rule.name : <Link href={paths.limit(page)}>{rule.name}</Link>}, revision {rule.revision}
            </dd>
            <dt>Its source</dt>
            <dd>{rule.source}</dd>
          </>
        )}
        <dt>Beyond</dt>
        <dd>{consequenceOf(budget)}</dd>
      </dl>
    </section>
  );
}
