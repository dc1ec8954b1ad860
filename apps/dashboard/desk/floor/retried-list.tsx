import { asProblem } from '../api/api-problem.js';
import { Mark } from '../kit/marks.js';
import { SubjectLink } from '../kit/subject-link.js';
import { entryWords } from '../words/words.js';
import { eventKey, type RetryOutcome } from './retry-events.js';
import { streamSubject } from './stream-subject.js';
import type { Retries } from './use-retries.js';

/** What became of the events that were tried again on this page. */
export function RetriedList({ retries }: { readonly retries: Retries }) {
  return (
    <div role="status">
      {retries.done.length > 0 && (
        <section className="retried" aria-label="Tried again">
          <h3>Tried again</h3>
          <ul>
            {retries.done.map(({ event, outcome }) => (
              <li key={eventKey(event)}>
                <OutcomeMark outcome={outcome} /> {entryWords(event.type)}{' '}
                <SubjectLink subject={streamSubject(event.subject)} />
                <OutcomeMore outcome={outcome} />
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  );
}

function OutcomeMark({ outcome: { state } }: { readonly outcome: RetryOutcome }) {
  switch (state) {
    case 'asked':
      return <Mark>being tried</Mark>;
    case 'applied':
      return <Mark tone="good">in the book</Mark>;
    case 'annulled':
      return <Mark>struck meanwhile</Mark>;
    case 'gone':
      return <Mark>not parked any more</Mark>;
    case 'pending':
      return <Mark tone="caution">still pending</Mark>;
    case 'parked':
      return <Mark tone="stop">parked again</Mark>;
    case 'failed':
      return <Mark tone="stop">not tried</Mark>;
  }
}

function OutcomeMore({ outcome }: { readonly outcome: RetryOutcome }) {
  if (outcome.state === 'parked') {
    return (
      <p>
        {outcome.detail} {outcome.remedy}
      </p>
    );
  }
  if (outcome.state === 'failed') {
    const { title, detail } = asProblem(outcome.error);
    return (
      <p>
        {title}. {detail}
      </p>
    );
  }
  return outcome.state === 'pending' ? <p>The fold comes to it; the list below is renewed by itself.</p> : null;
}
