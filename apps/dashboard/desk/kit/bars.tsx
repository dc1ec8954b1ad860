import './bars.css';

export interface Bar {
  readonly name: string;
  readonly label: string;
  readonly count: number;
}

interface BarsProps {
  readonly title: string;
  readonly bars: readonly Bar[];
  /** The bar that what is shown is narrowed down to. */
  readonly picked?: string | undefined;
  /** Narrows down to a bar, or, with undefined, no longer. */
  readonly onPick?: (name: string | undefined) => void;
}

/** Bars beyond these are left to the filters. */
const MOST = 8;

/** A small chart of counts, the most first; each bar is a button that narrows down to it. */
export function Bars({ title, bars, picked, onPick }: BarsProps) {
  const most = Math.max(1, ...bars.map(({ count }) => count));
  const shown = bars.slice(0, MOST);
  return (
    <div className="bars">
      <h3>{title}</h3>
      {bars.length === 0 && <p className="quiet">none</p>}
      <ul>
        {shown.map(({ name, label, count }) => (
          <li key={name}>
            <button
              type="button"
              aria-pressed={picked === name}
              onClick={() => {
                onPick?.(picked === name ? undefined : name);
              }}
            >
              <span className="bars__label">{label}</span>
              <span className="bars__count">{count.toLocaleString('en')}</span>
              <span className="bars__bar" aria-hidden="true" style={{ width: `${(100 * count) / most}%` }} />
            </button>
          </li>
        ))}
      </ul>
      {bars.length > MOST && <p className="quiet">and {bars.length - MOST} more</p>}
    </div>
  );
}
