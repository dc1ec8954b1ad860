import { Bars } from '../kit/bars.js';
import { useRole } from '../session/session-gate.js';
import { barsOf, type Dimension } from './desk-bars.js';
import { type DeskFilter, narrowed } from './desk-filter.js';
import type { DeskCounts } from './use-desk-counts.js';

interface DeskCountsBlockProps {
  readonly filter: DeskFilter;
  readonly counts: DeskCounts;
  readonly onFilter: (filter: DeskFilter) => void;
}

const CHARTS: readonly { readonly dimension: Dimension; readonly title: string; readonly house?: true }[] = [
  { dimension: 'reason', title: 'By reason' },
  { dimension: 'age', title: 'By age' },
  { dimension: 'stage', title: 'By stage', house: true },
  { dimension: 'customer', title: 'By customer', house: true },
  { dimension: 'station', title: 'By station' },
];

/** How many open holds there are of what, as small charts; picking a bar narrows the list down. */
export function DeskCountsBlock({ filter, counts, onFilter }: DeskCountsBlockProps) {
  const isHouse = !useRole('customer');
  return (
    <section className="desk-counts" aria-labelledby="desk-counts-title">
      <h2 id="desk-counts-title" className="unseen">
        Open holds by count
      </h2>
      {CHARTS.filter(({ house }) => isHouse || house === undefined).map(({ dimension, title }) => (
        <Bars
          key={dimension}
          title={title}
          bars={barsOf(dimension, counts.beside(dimension))}
          picked={filter[dimension]}
          onPick={(name) => {
            onFilter(narrowed(filter, dimension, name));
          }}
        />
      ))}
    </section>
  );
}
