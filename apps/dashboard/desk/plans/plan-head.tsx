import type { Schemas } from '../api/client.js';
import { Button } from '../kit/button.js';
import { Mark } from '../kit/marks.js';
import { methodWords } from '../words/words.js';

type Row = Schemas['PlanRow'];

/** Which method is taken, and how to take another. */
export interface PlanPick {
  readonly chosen: Row['method'] | null;
  readonly onChoose: (method: Row['method']) => void;
}

/** A method's name, whether it fits, whether it spends least, and the button that takes it. */
export function PlanHead({ row, chosen, onChoose }: PlanPick & { readonly row: Row }) {
  const { method, fits, cheapest } = row;
  const isChosen = method === chosen;
  return (
    <div className="plan-head">
      <h3>{methodWords(method)}</h3>
      <p>
        <Mark tone={fits ? 'good' : 'stop'}>{fits ? 'fits' : 'does not fit'}</Mark>
        {cheapest && <span className="plan-head__least">spends least</span>}
      </p>
      <Button
        aria-pressed={isChosen}
        onClick={() => {
          onChoose(method);
        }}
      >
        {isChosen && <span aria-hidden="true">✓ </span>}
        Go by {method}
      </Button>
    </div>
  );
}
