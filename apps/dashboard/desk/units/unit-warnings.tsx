import type { Schemas } from '../api/client.js';
import { Empty } from '../kit/states.js';
import { subjectName } from '../kit/subject-link.js';
import { When } from '../kit/when.js';
import { warningWords, withEntryWords } from './unit-text.js';
import './unit-warnings.css';

/** What the book warned of, the newest first. */
export function UnitWarnings({ warnings }: { readonly warnings: readonly Schemas['Warning'][] }) {
  if (warnings.length === 0) {
    return (
      <Empty title="No warning.">
        <p>Every heat was cleared, measured or known well enough.</p>
      </Empty>
    );
  }
  const newestFirst = warnings.toSorted((one, other) => Date.parse(other.lastAt) - Date.parse(one.lastAt));
  return (
    <ul className="unit-warnings">
      {newestFirst.map(({ code, subject, detail, remedy, count, lastAt }) => (
        <li key={`${code} ${subjectName(subject)} ${detail}`}>
          <p>
            <strong>
              <span aria-hidden="true">! </span>
              {warningWords(code)}
            </strong>
            , <span className="mono">{subjectName(subject)}</span>, {count === 1 ? 'once' : `${count} times`}, last{' '}
            <When at={lastAt} />
          </p>
          <p>{withEntryWords(detail)}</p>
          <p className="quiet">{withEntryWords(remedy)}</p>
        </li>
      ))}
    </ul>
  );
}
