import { PlanHead, type PlanPick } from './plan-head.js';
import { isAlike, type PlanMeasure, type PlanQuestion, type PlanRow, planQuestions } from './plan-questions.js';
import './plan-table.css';

/** A row for each question, a column for each method; what all answer alike is said once, so that the rest stands out. */
export function PlanTable({ measure, ...pick }: PlanPick & { readonly measure: PlanMeasure }) {
  const { plan } = measure;
  const toneOf = ({ method }: PlanRow) => (method === pick.chosen ? 'plan-table__chosen' : '');
  return (
    <div className="scroll-x" tabIndex={0} role="region" aria-label="Methods side by side">
      <table className="rows plan-table">
        <thead>
          <tr>
            <td />
            {plan.rows.map((row) => (
              <th key={row.method} scope="col" className={toneOf(row)}>
                <PlanHead row={row} {...pick} />
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {planQuestions(measure).map((question) => (
            <tr key={question.question}>
              <th scope="row">{question.question}</th>
              {isAlike(plan, question) ? (
                <AnswerOfAll question={question} rows={plan.rows} />
              ) : (
                plan.rows.map((row) => (
                  <td key={row.method} className={toneOf(row)}>
                    {question.answer(row)}
                  </td>
                ))
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function AnswerOfAll({ question, rows }: { readonly question: PlanQuestion; readonly rows: readonly PlanRow[] }) {
  const [first] = rows;
  return (
    <td colSpan={rows.length} className="plan-table__alike">
      {first !== undefined && question.answer(first)}
      <span className="quiet plan-table__whichever">whichever is taken</span>
    </td>
  );
}
