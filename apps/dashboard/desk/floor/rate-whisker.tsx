import { percent, pctOf, placeOf, type RateLike } from './rate-scale.js';
import './rate-whisker.css';

interface RateWhiskerProps {
  readonly rate: RateLike;
  /** Where the shared scale ends, as a share. */
  readonly end: number;
  readonly houseRate: number | null;
}

const MIDDLE = '50%';
const DOT_PX = 4.5;

/**
 * A rate as a dot on its interval, over the line of the house. Too few sites: dashed, with a hollow dot. Above the house rate: a
 * square. An interval that goes on beyond the scale ends in an arrow.
 */
export function RateWhisker({ rate, end, houseRate }: RateWhiskerProps) {
  const { lowPct, highPct, dotPct, cut, dotCut } = placeOf(rate, end);
  const { low, high } = rate.interval;
  const said = `${percent(rate.rate)}, interval ${percent(low)} to ${percent(high)}`;
  return (
    <svg className={`whisker whisker--${rate.verdict}`} role="img" aria-label={said}>
      {houseRate !== null && <HouseLine atPct={pctOf(houseRate, end)} />}
      <line className="whisker__line" x1={`${lowPct}%`} x2={`${highPct}%`} y1={MIDDLE} y2={MIDDLE} />
      <End atPct={lowPct} />
      {cut ? <Arrow /> : <End atPct={highPct} />}
      {!dotCut && <Dot atPct={dotPct} square={rate.verdict === 'above'} />}
    </svg>
  );
}

function HouseLine({ atPct }: { readonly atPct: number }) {
  return <line className="whisker__house" x1={`${atPct}%`} x2={`${atPct}%`} y1="0" y2="100%" />;
}

function End({ atPct }: { readonly atPct: number }) {
  return <line className="whisker__end" x1={`${atPct}%`} x2={`${atPct}%`} y1="30%" y2="70%" />;
}

/** At the right end, pointing beyond it. */
function Arrow() {
  return (
    <svg x="100%" y={MIDDLE} overflow="visible">
      <path className="whisker__end" d="M-7 -5 L0 0 L-7 5" fill="none" />
    </svg>
  );
}

function Dot({ atPct, square }: { readonly atPct: number; readonly square: boolean }) {
  if (!square) return <circle className="whisker__dot" cx={`${atPct}%`} cy={MIDDLE} r={DOT_PX} />;
  return (
    <svg x={`${atPct}%`} y={MIDDLE} overflow="visible">
      <rect className="whisker__dot" x={-DOT_PX} y={-DOT_PX} width={2 * DOT_PX} height={2 * DOT_PX} />
    </svg>
  );
}
