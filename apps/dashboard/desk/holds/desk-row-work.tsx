import { Mark } from '../kit/marks.js';
import { dateAndTime, lengthInWords } from '../kit/time-words.js';
import { useNow } from '../kit/when.js';
import { decisionWords, stageWords } from '../words/words.js';
import type { Hold } from './use-desk-pages.js';

/** How far the work on a hold has got and who has it by when; for customers, whether it is decided. */
export function DeskRowWork({ hold }: { readonly hold: Hold }) {
  const { stage, decision, state, assignee, dueAt } = hold;
  if (assignee === undefined) {
    return (
      <div className="desk-row__work">
        <p className="desk-row__line">{state === 'open' ? 'Being worked on' : stateWords(state)}</p>
        <p className="desk-row__line quiet">{decision === null ? '' : decisionWords(decision)}</p>
      </div>
    );
  }
  const isOpen = state === 'open';
  const withWhom = assignee === null ? null : <span className="mono">{assignee}</span>;
  return (
    <div className="desk-row__work">
      <p className="desk-row__line">
        {!isOpen && stateWords(state)}
        {isOpen && decision !== null && `Decided: ${decisionWords(decision).toLowerCase()}`}
        {isOpen && decision === null && (withWhom === null ? stageWords(stage) : <>With {withWhom}</>)}
      </p>
      <p className="desk-row__line">
        {(!isOpen || decision !== null) && withWhom} {isOpen && typeof dueAt === 'string' && <Due at={dueAt} />}
      </p>
    </div>
  );
}

function stateWords(state: Hold['state']): string {
  return state === 'released' ? 'Released' : 'Withdrawn';
}

/** A due date: how long it has been over, or how long there is. @param at RFC 3339 */
function Due({ at }: { readonly at: string }) {
  const leftMs = Date.parse(at) - useNow();
  const title = `Due ${dateAndTime(at)}`;
  if (leftMs < 0) {
    return (
      <span title={title}>
        <Mark tone="caution">{shortLength(-leftMs)} overdue</Mark>
      </span>
    );
  }
  return (
    <span className="quiet" title={title}>
      due in {shortLength(leftMs)}
    </span>
  );
}

/** The greater unit alone: `3 d`. */
function shortLength(ms: number): string {
  return lengthInWords(ms).split(' ').slice(0, 2).join(' ');
}
