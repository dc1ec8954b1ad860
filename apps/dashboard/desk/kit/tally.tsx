import { tallyCells, type TallyFigures, tallyInWords } from './tally-cells.js';
import './tally.css';

/**
 * What has been spent of what is allowed, a notch for each: filled is used, striped is reserved, empty is left; what lies
 * beyond the bold line is over the limit. Readable in grey, and said in words.
 */
export function Tally(figures: TallyFigures) {
  return (
    <span className="tally" role="img" aria-label={tallyInWords(figures)}>
      {tallyCells(figures).map(({ kind, over, edge }, n) => (
        <i key={n} className={`tally__${kind}${over ? ' tally__over' : ''}${edge ? ' tally__edge' : ''}`} />
      ))}
    </span>
  );
}
