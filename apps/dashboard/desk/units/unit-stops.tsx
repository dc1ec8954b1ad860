import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { subjectName } from '../kit/subject-link.js';
import { Ago } from '../kit/when.js';
import { paths } from '../paths.js';
import { reasonWords, stageWords } from '../words/words.js';
import './unit-stops.css';

/** Holds beyond these are left to the desk. */
const MOST = 5;

/** Why work is stopped: each open hold with its reason, and what would resolve it. Nothing where nothing is held. */
export function UnitStops({ holds }: { readonly holds: readonly Schemas['Hold'][] }) {
  const [first] = holds;
  if (first === undefined) return null;
  const { unit } = first;
  return (
    <section className="unit-stops" aria-label="Open holds">
      <h2>
        <span aria-hidden="true">✕ </span>
        {holds.length === 1 ? '1 open hold' : `${holds.length} open holds`}
      </h2>
      <ul>
        {holds.slice(0, MOST).map(({ id, reason, subject, evidence, remedy, raisedAt, stage }) => (
          <li key={id}>
            <p>
              <Link href={paths.hold(id)}>{reasonWords(reason)}</Link> on{' '}
              <span className="mono">{shortName(subject)}</span>, <Ago at={raisedAt} />,{' '}
              {stageWords(stage).toLowerCase()}
            </p>
            <p>{evidence.summary}</p>
            <p className="quiet">Way out: {remedy}</p>
          </li>
        ))}
      </ul>
      {holds.length > MOST && unit !== null && (
        <p>
          <Link
            href={`${paths.holds}?${new URLSearchParams({ assembly: unit.assembly, serial: unit.serial }).toString()}`}
          >
            All {holds.length} on the desk
          </Link>
        </p>
      )}
    </section>
  );
}

function shortName(subject: Schemas['HoldSubject']): string {
  if (subject.kind === 'site') return subject.refdes;
  return subject.kind === 'unit' ? 'the board' : subjectName(subject);
}
