import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { SubjectLink } from '../kit/subject-link.js';
import { When } from '../kit/when.js';
import { limitWords } from '../words/words.js';

/** Exceptions that a customer approved for what is held, or for anything else on its unit. */
export function HoldConcessions({ concessions }: { readonly concessions: readonly Schemas['Concession'][] }) {
  return (
    <section>
      <h3>Concessions here</h3>
      {concessions.length === 0 ? (
        <p className="quiet">None: the limits apply as they are.</p>
      ) : (
        <ul>
          {concessions.map(({ id, subject, limit, allowed, from, customerReference, withdrawn, signedBy }) => (
            <li key={id}>
              {limitWords(limit)} of <SubjectLink subject={subject} />: {allowed} since <When at={from} />, signed by{' '}
              {signedBy} under “{customerReference}” {withdrawn && <Mark tone="caution">withdrawn</Mark>}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
