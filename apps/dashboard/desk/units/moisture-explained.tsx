import type { Schemas } from '../api/client.js';
import { round } from './site-words.js';

/** The stretches of time that a moisture clock is reckoned from, and the bakes that were too short. */
export function MoistureExplained({ clock }: { readonly clock: Schemas['DeviceMoisture'] }) {
  return (
    <details>
      <summary>Explain</summary>
      <p>{clock.why}.</p>
      {clock.basis.length > 0 && (
        <ol>
          {clock.basis.map(({ hours, columnC, columnPct, lifeH, share, source, notes, reference }, n) => (
            <li key={n}>
              {round(hours, 1)} h at {columnC} °C / {columnPct} %RH ({source}), where it may lie{' '}
              {lifeH === null ? 'for ever' : `${lifeH} h`}: {round(100 * share, 1)} % of its floor life.{' '}
              {notes.join('; ')} <span className="quiet">{reference}</span>
            </li>
          ))}
        </ol>
      )}
      {clock.shortBakes.map(({ bakedH, neededH, why, reference }, n) => (
        <p key={n}>
          A bake of {round(bakedH, 1)} h changed nothing
          {neededH !== null && `: ${round(neededH, 1)} h are needed`}. {why.join('; ')}.{' '}
          <span className="quiet">{reference}</span>
        </p>
      ))}
    </details>
  );
}
