import { useId } from 'react';
import { methodWords } from '../words/words.js';
import { PlanHead, type PlanPick } from './plan-head.js';
import { isAlike, type PlanMeasure, type PlanQuestion, type PlanRow, planQuestions } from './plan-questions.js';
import './plan-table.css';

/** The same as the table for a narrow screen: a card for each method, and one for what all answer alike. */
export function PlanCards({ measure, ...pick }: PlanPick & { readonly measure: PlanMeasure }) {
  const { plan } = measure;
  const questions = planQuestions(measure);
  const differing = questions.filter((question) => !isAlike(plan, question));
  const alike = questions.filter((question) => isAlike(plan, question));
  const [first] = plan.rows;
  const heading = useId();
  return (
    <div className="plan-cards">
      {plan.rows.map((row) => (
        <article
          key={row.method}
          className={`plan-card ${row.method === pick.chosen ? 'plan-card--chosen' : ''}`}
          aria-label={methodWords(row.method)}
        >
          <PlanHead row={row} {...pick} />
          <Answers questions={differing} row={row} />
        </article>
      ))}
      {first !== undefined && alike.length > 0 && (
        <article className="plan-card plan-card--all" aria-labelledby={heading}>
          <h3 id={heading}>Whichever is taken</h3>
          <Answers questions={alike} row={first} />
        </article>
      )}
    </div>
  );
}

function Answers({ questions, row }: { readonly questions: readonly PlanQuestion[]; readonly row: PlanRow }) {
  return (
    <dl className="plan-card__answers">
      {questions.map(({ question, answer }) => (
        <div key={question}>
          <dt>{question}</dt>
          <dd>{answer(row)}</dd>
        </div>
      ))}
    </dl>
  );
}
