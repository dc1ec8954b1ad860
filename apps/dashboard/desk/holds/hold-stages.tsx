import { stageWords } from '../words/words.js';
import type { ExplainedHold } from './hold-shape.js';
import './hold-stages.css';

const STAGES = ['new', 'assigned', 'decided', 'closed'] as const;

/** How far it has got: what is done is filled, where it stands is named and framed, what was passed over stays empty. */
export function HoldStages({ hold }: { readonly hold: ExplainedHold }) {
  const at = STAGES.indexOf(hold.stage);
  return (
    <ol className="hold-stages" aria-label="How far it has got">
      {STAGES.map((one, n) => (
        <li
          key={one}
          className={n === at ? 'hold-stages--now' : n < at && wasDone(one, hold) ? 'hold-stages--done' : ''}
          aria-current={n === at ? 'step' : undefined}
        >
          {one === 'closed' && hold.state === 'withdrawn' ? 'Withdrawn' : stageWords(one)}
        </li>
      ))}
    </ol>
  );
}

/** One can decide without anybody having been given it, and what was withdrawn may never have been decided. */
function wasDone(stage: (typeof STAGES)[number], { dispositions, assignee }: ExplainedHold): boolean {
  if (stage === 'decided') return dispositions.length > 0;
  return stage !== 'assigned' || assignee != null;
}
