import { Mark } from '../kit/marks.js';
import { limitWords } from '../words/words.js';
import { type HeldHeat, verdictSubject } from './hold-heat.js';
import './hold-verdicts.css';

const KINDS = {
  counted: { words: 'counted', tone: 'plain' },
  clear: { words: 'not counted', tone: 'good' },
  possible: { words: 'possible', tone: 'caution' },
} as const;

/** What was judged by a heat, of what it was: counted, clear of the line, or possible; and why. */
export function HoldVerdicts({ heat }: { readonly heat: HeldHeat }) {
  const { verdicts, lines } = heat;
  if (verdicts.length === 0) return null;
  return (
    <>
      <ul className="hold-verdicts">
        {verdicts.map(({ kind, subject, limit, count }) => (
          <li key={`${kind} ${limit} ${verdictSubject(heat, subject)}`}>
            <span className="mono">{verdictSubject(heat, subject)}</span>
            <span>{limitWords(limit)}</span>
            <Mark tone={KINDS[kind].tone}>{KINDS[kind].words}</Mark>
            <span className="hold-verdicts__why">{count.why}</span>
          </li>
        ))}
      </ul>
      {lines.map(({ alloy, solidusC, guardBandC, atC }) => (
        <p key={atC}>
          Counting line <strong>{atC} °C</strong>: {alloy} begins to melt at {solidusC} °C, less {guardBandC} °C guard
          band. A peak that reaches it with its uncertainty is an excursion.
        </p>
      ))}
    </>
  );
}
