import type { Schemas } from '../api/client.js';
import { copperInWords, round } from './site-words.js';

/** Each contact of the pads with molten solder, and what it took of their copper. */
export function SiteCopper({ site }: { readonly site: Schemas['Site'] }) {
  const { copper } = site;
  if (copper === null) return null;
  return (
    <section>
      <h3>Pad copper: {copperInWords(site)}</h3>
      {copper.rows.length === 0 ? (
        <p>No contact with molten solder was told: the pads are as they were made.</p>
      ) : (
        <ol>
          {copper.rows.map(({ what, lostUm, leftUm, why }, n) => (
            <li key={n}>
              {what}: {lostUm === null ? 'not known' : `−${round(lostUm, 2)} µm`}, {round(leftUm, 1)} µm left.{' '}
              {why.join('; ')}
            </li>
          ))}
        </ol>
      )}
      {copper.stops !== undefined && <p>The model ends here: {copper.stops.detail}</p>}
      <p className="quiet">{copper.source}</p>
    </section>
  );
}
