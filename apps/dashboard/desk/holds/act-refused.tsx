import type { ExplainedHold } from './hold-shape.js';
import { whyNot } from './hold-next.js';

interface ActRefusedProps {
  readonly hold: ExplainedHold;
  readonly action: 'dispose' | 'release' | 'assign';
}

/** Says, in an open form, that what it is for cannot be done any more, and why. */
export function ActRefused({ hold, action }: ActRefusedProps) {
  const why = whyNot(hold, action);
  if (why === null) return null;
  return (
    <p role="alert" className="form__error">
      As the hold is now, you cannot do this. {why}
    </p>
  );
}
