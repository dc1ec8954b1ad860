import type { ReactNode } from 'react';
import { Link } from 'wouter';
import { paths } from '../paths.js';
import { methodWords } from '../words/words.js';
import type { DamageRate } from './damage-queries.js';

interface DamageGroup {
  readonly by: DamageRate['by'];
  readonly title: string;
  readonly nameOf: (name: string) => ReactNode;
}

/** What damage is reckoned by. */
export const DAMAGE_GROUPS: readonly DamageGroup[] = [
  { by: 'operator', title: 'By operator', nameOf: (name) => <span className="mono">{name}</span> },
  { by: 'method', title: 'By method', nameOf: methodWords },
  {
    by: 'station',
    title: 'By station',
    nameOf: (name) => (
      <Link className="mono" href={paths.station(name)}>
        {name}
      </Link>
    ),
  },
];
