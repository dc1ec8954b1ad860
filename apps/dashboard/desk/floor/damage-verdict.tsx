import { Mark } from '../kit/marks.js';
import type { DamageRate } from './damage-queries.js';

/** How a rate stands to that of the house, by sign and word; why, on hovering. */
export function DamageVerdict({ rate: { verdict, why } }: { readonly rate: DamageRate }) {
  switch (verdict) {
    case 'above':
      return (
        <span title={why}>
          <Mark tone="stop">above the house</Mark>
        </span>
      );
    case 'below':
      return (
        <span title={why}>
          <Mark tone="good">below the house</Mark>
        </span>
      );
    case 'within':
      return <span title={why}>as the house</span>;
    case 'too-few':
      return (
        <span className="quiet" title={why}>
          too few to tell
        </span>
      );
  }
}
