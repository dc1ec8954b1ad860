import type { Schemas } from '../api/client.js';
import { Button } from '../kit/button.js';
import { SubjectLink } from '../kit/subject-link.js';
import { Ago } from '../kit/when.js';
import { useRole } from '../session/session-gate.js';
import { entryWords } from '../words/words.js';
import type { ParkedGroup as Group } from './parked-groups.js';
import { parkedWords } from './parked-words.js';
import { eventKey } from './retry-events.js';
import { streamSubject } from './stream-subject.js';
import type { Retries } from './use-retries.js';

type ParkedEvent = Schemas['ParkedEvent'];

interface ParkedGroupProps {
  readonly group: Group<ParkedEvent>;
  readonly retries: Retries;
}

/** Parked events with one thing the matter, each with its remedy. */
export function ParkedGroup({ group, retries }: ParkedGroupProps) {
  const { code, events } = group;
  const mayRetry = useRole('quality', 'admin');
  return (
    <section className="parked" aria-label={parkedWords(code)}>
      <header className="parked__head">
        <h3>
          {parkedWords(code)} <span className="quiet">({events.length})</span>
        </h3>
        {mayRetry && events.length > 1 && (
          <Button
            busy={retries.busy}
            onClick={() => {
              retries.retry(events);
            }}
          >
            Retry these {events.length}
          </Button>
        )}
      </header>
      <ul>
        {events.map((event) => (
          <ParkedRow key={eventKey(event)} event={event} retries={mayRetry ? retries : undefined} />
        ))}
      </ul>
    </section>
  );
}

interface ParkedRowProps {
  readonly event: ParkedEvent;
  /** Undefined for who may not retry. */
  readonly retries: Retries | undefined;
}

function ParkedRow({ event, retries }: ParkedRowProps) {
  const { source, id, type, subject, reason, parkedAt } = event;
  return (
    <li className="parked__row">
      <p className="parked__what">
        <strong>{entryWords(type)}</strong> <SubjectLink subject={streamSubject(subject)} /> at{' '}
        <SubjectLink subject={{ kind: 'station', station: source.replace('/stations/', '') }} />, <Ago at={parkedAt} />
      </p>
      <p>{reason.detail}</p>
      <p className="parked__remedy">{reason.remedy}</p>
      <p className="parked__id quiet mono">{id}</p>
      {retries !== undefined && (
        <Button
          busy={retries.busy}
          aria-label={`Retry ${id}`}
          onClick={() => {
            retries.retry([event]);
          }}
        >
          Retry
        </Button>
      )}
    </li>
  );
}
