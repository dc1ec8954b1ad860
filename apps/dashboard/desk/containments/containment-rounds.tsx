import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { When } from '../kit/when.js';

/** Who signed, when, and why: the order itself, and each time it was given again. */
export function ContainmentRounds({ rounds }: Pick<Schemas['Containment'], 'rounds'>) {
  return rounds.map(({ note, signature, held }, n) => (
    <div key={signature.at} className="containment-round">
      <dt>{n === 0 ? 'Signed' : `Again, round ${String(n + 1)}`}</dt>
      <dd>
        {note} {held !== null && <Mark>{held} held</Mark>}
        <div className="quiet">
          {signature.printedName} ({signature.by}), <When at={signature.at} />: {signature.meaning}
        </div>
      </dd>
    </div>
  ));
}
