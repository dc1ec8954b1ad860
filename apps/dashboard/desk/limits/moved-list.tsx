import { useState } from 'react';
import { Link } from 'wouter';
import { Button } from '../kit/button.js';
import { Mark } from '../kit/marks.js';
import { SubjectLink, subjectName } from '../kit/subject-link.js';
import { paths } from '../paths.js';
import { figuresInWords } from './moved-words.js';
import type { Moved } from './what-if-sums.js';

const FIRST = 10;

interface MovedListProps {
  readonly title: string;
  readonly moved: readonly Moved[];
  readonly total: number;
  readonly unit: string;
}

/** Subjects that would stand otherwise: what they have spent, what is allowed now and would be then. */
export function MovedList({ title, moved, total, unit }: MovedListProps) {
  const [all, setAll] = useState(false);
  const shown = all ? moved : moved.slice(0, FIRST);
  return (
    <section aria-label={title}>
      <h3>
        {title} <span className="quiet">({total})</span>
      </h3>
      {moved.length === 0 ? (
        <p className="quiet">none</p>
      ) : (
        <ul className="moved">
          {shown.map((one) => (
            <li key={`${one.unit?.assembly ?? ''}/${one.unit?.serial ?? ''} ${subjectName(one.subject)}`}>
              <MovedRow moved={one} unit={unit} />
            </li>
          ))}
        </ul>
      )}
      {!all && moved.length > FIRST && (
        <Button
          onClick={() => {
            setAll(true);
          }}
        >
          Show {moved.length === total ? `all ${total}` : `the first ${moved.length}`}
        </Button>
      )}
    </section>
  );
}

function MovedRow({ moved, unit }: { readonly moved: Moved; readonly unit: string }) {
  const { subject, unit: on, now, then, hold } = moved;
  return (
    <>
      <SubjectLink subject={subject} />
      {subject.kind === 'device' && on !== null && (
        <span className="quiet">
          {' '}
          on {on.assembly} / {on.serial}
        </span>
      )}
      <span className="moved__figures">
        <Breach breach={now.breach} /> <span aria-hidden="true">→</span>
        <span className="unseen"> then </span> <Breach breach={then.breach} /> {figuresInWords(moved, unit)}
        {hold !== null && (
          <>
            {'; '}
            <Link href={paths.hold(hold)}>its hold</Link>
          </>
        )}
      </span>
    </>
  );
}

function Breach({ breach }: { readonly breach: 'none' | 'warn' | 'hold' }) {
  if (breach === 'hold') return <Mark tone="stop">hold</Mark>;
  return breach === 'warn' ? <Mark tone="caution">warning</Mark> : <Mark tone="good">in order</Mark>;
}
