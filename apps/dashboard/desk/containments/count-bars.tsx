import './count-bars.css';

interface CountBarsProps {
  readonly title: string;
  readonly bars: readonly { readonly name: string; readonly label: string; readonly count: number }[];
}

/** Bars beyond these are summed up. */
const MOST = 8;

/** Counts as bars that are only looked at. */
export function CountBars({ title, bars }: CountBarsProps) {
  const most = Math.max(1, ...bars.map(({ count }) => count));
  const rest = bars.slice(MOST);
  return (
    <section className="count-bars">
      <h3>{title}</h3>
      <ul>
        {bars.slice(0, MOST).map(({ name, label, count }) => (
          <li key={name}>
            <span>{label}</span>
            <strong>{count}</strong>
            <i aria-hidden="true" style={{ width: `${(100 * count) / most}%` }} />
          </li>
        ))}
      </ul>
      {rest.length > 0 && (
        <p className="quiet">
          and {rest.length} more, {rest.reduce((sum, { count }) => sum + count, 0)} together
        </p>
      )}
    </section>
  );
}
