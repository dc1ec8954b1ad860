import { clockTime } from '../kit/time-words.js';
import { useLive } from './live-provider.js';
import './live-badge.css';

/** Says whether what is shown is live. A lost connection stands out, and says since when nothing new has come. */
export function LiveBadge() {
  const { live, since } = useLive();
  if (since === null) return <p className="live" role="status" />;
  const clock = clockTime(since);
  return (
    <p className={`live ${live ? 'live--on' : 'live--lost'}`} role="status">
      {live ? 'Live' : `Not live since ${clock}; trying again`}
    </p>
  );
}
