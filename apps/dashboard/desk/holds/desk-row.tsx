import { memo } from 'react';
import { Link } from 'wouter';
import { Graveness, Mark } from '../kit/marks.js';
import { SubjectLink, subjectName } from '../kit/subject-link.js';
import { dateAndTime, lengthInWords } from '../kit/time-words.js';
import { useNow } from '../kit/when.js';
import { paths } from '../paths.js';
import { reasonWords } from '../words/words.js';
import { rowLinkId } from './desk-row-link.js';
import { DeskRowWork } from './desk-row-work.js';
import type { Hold } from './use-desk-pages.js';
import './desk-row.css';

interface DeskRowProps {
  readonly hold: Hold;
  readonly index: number;
  /** It is no longer among what the list has. */
  readonly gone: boolean;
  /** The one row that Tab comes to. */
  readonly isCursor: boolean;
  /** Undefined for those who assign nothing. */
  readonly picked: boolean | undefined;
  readonly onPick: (index: number, stretch: boolean) => void;
}

/** A hold in the list: how grave, why, of what, where it came from, for how long, and who is on it. */
export const DeskRow = memo(function DeskRow({ hold, index, gone, isCursor, picked, onPick }: DeskRowProps) {
  const name = subjectName(hold.subject);
  const tabIndex = isCursor ? 0 : -1;
  return (
    <div className={`desk-row${gone ? ' desk-row--gone' : ''}`}>
      {picked !== undefined && (
        <label className="desk-row__pick">
          <input
            type="checkbox"
            checked={picked}
            tabIndex={tabIndex}
            onChange={(event) => {
              const { nativeEvent } = event;
              onPick(index, nativeEvent instanceof MouseEvent && nativeEvent.shiftKey);
            }}
          />
          <span className="unseen">
            Select {reasonWords(hold.reason)}, {name}
          </span>
        </label>
      )}
      <div className="desk-row__grave">{hold.graveness !== undefined && <Graveness level={hold.graveness} />}</div>
      <p className="desk-row__why desk-row__line">
        <Link id={rowLinkId(index)} className="desk-row__link" href={paths.hold(hold.id)} tabIndex={tabIndex}>
          {reasonWords(hold.reason)}
          <span className="unseen">, {name}</span>
        </Link>{' '}
        {hold.causeGone && <Mark tone="good">cause gone</Mark>} {gone && <Mark>no longer in this list</Mark>}
      </p>
      <p className="desk-row__seen desk-row__line quiet" title={hold.evidence.summary}>
        {hold.evidence.summary}
      </p>
      <p className="desk-row__what desk-row__line">
        <SubjectLink subject={hold.subject} tabIndex={tabIndex} />
      </p>
      <div className="desk-row__from">
        {hold.assignee !== undefined && (
          <p className="desk-row__line">{hold.customer ?? (hold.unit === null ? 'the house' : '')}</p>
        )}
        <p className="desk-row__line quiet">{hold.station ?? (hold.raisedBy === null ? '' : `by ${hold.raisedBy}`)}</p>
      </div>
      <div className="desk-row__raised">
        <p className="desk-row__line">
          <Age since={hold.raisedAt} />
        </p>
        <p className="desk-row__line quiet">{hold.operator}</p>
      </div>
      <DeskRowWork hold={hold} />
    </div>
  );
});

/** How long ago it was raised. @param since RFC 3339 */
function Age({ since }: { readonly since: string }) {
  // Clocks differ a little: nothing was raised ahead of now.
  const ms = Math.max(0, useNow() - Date.parse(since));
  return (
    <time dateTime={since} title={`Raised ${dateAndTime(since)}`}>
      <span className="unseen">raised </span>
      {lengthInWords(ms)}
      <span className="unseen"> ago</span>
    </time>
  );
}
