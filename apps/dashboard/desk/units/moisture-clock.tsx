import type { ReactNode } from 'react';
import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { useNow, When } from '../kit/when.js';
import { MoistureExplained } from './moisture-explained.js';
import { clockInWords, filledOf, startInWords, usedInWords } from './moisture-words.js';
import './moisture-clock.css';

interface MoistureClockProps {
  readonly clock: Schemas['DeviceMoisture'];
  readonly title: ReactNode;
}

/** The floor life of a device: what of it is used, what is left and until when, and what it is reckoned from. */
export function MoistureClock({ clock, title }: MoistureClockProps) {
  const { tone, words } = clockInWords(clock, useNow());
  const { sure, atWorst } = filledOf(clock);
  return (
    <section className="moisture-clock">
      <h3>
        {title} <Mark tone={tone}>{words}</Mark>
      </h3>
      {clock.floorLifeH !== null && (
        <div className="moisture-clock__bar" aria-hidden="true">
          <i className="moisture-clock__sure" style={{ width: `${100 * sure}%` }} />
          <i className="moisture-clock__worst" style={{ width: `${100 * atWorst}%` }} />
        </div>
      )}
      <dl className="facts">
        <dt>Used</dt>
        <dd>{usedInWords(clock)}</dd>
        {clock.expiresAt !== null && (
          <>
            <dt>{clock.state === 'expired' ? 'Ran out' : 'Until'}</dt>
            <dd>
              <When at={clock.expiresAt} />
            </dd>
          </>
        )}
        <dt>Counted from</dt>
        <dd>
          {startInWords(clock)}
          {clock.start.at !== null && (
            <>
              , <When at={clock.start.at} />
            </>
          )}
        </dd>
        {clock.remedy !== null && (
          <>
            <dt>Way out</dt>
            <dd>{clock.remedy}</dd>
          </>
        )}
      </dl>
      <MoistureExplained clock={clock} />
    </section>
  );
}
