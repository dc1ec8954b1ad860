import { Link } from 'wouter';
import { dateAndTime } from '../kit/time-words.js';
import { ledgerPath } from './ledger-path.js';
import type { LedgerSource } from './ledger-queries.js';
import type { RouteStep } from './route-steps.js';

interface RouteStepLinkProps {
  readonly source: LedgerSource;
  readonly step: RouteStep;
}

/** A step as a block that leads to its entry. */
export function RouteStepLink({ source, step }: RouteStepLinkProps) {
  const { seq, kind, word, detail, title, counted, possible, failed, struck, fromMs } = step;
  const marks = [counted > 0 && `●${counted}`, possible > 0 && `○${possible}`].filter((mark) => mark !== false);
  return (
    <Link
      href={ledgerPath(source, seq)}
      className={`route-step route-step--${kind} ${failed ? 'route-step--failed' : ''} ${struck ? 'route-step--struck' : ''}`}
      title={`${dateAndTime(new Date(fromMs).toISOString())} ${title}`}
    >
      <b>{struck ? <s>{word}</s> : word}</b>
      {detail !== '' && <span className="route-step__detail">{detail}</span>}
      {marks.length > 0 && (
        <span className="route-step__marks" aria-hidden="true">
          {marks.join(' ')}
        </span>
      )}
      <span className="unseen">{stepAloud(step)}</span>
    </Link>
  );
}

function stepAloud({ seq, title, counted, possible, struck }: RouteStep): string {
  return [
    `, entry ${seq}: ${title}`,
    ...(counted > 0 ? [`${counted} excursions counted`] : []),
    ...(possible > 0 ? [`${possible} possible`] : []),
    ...(struck ? ['struck'] : []),
  ].join(', ');
}
