import type { Schemas } from '../api/client.js';
import { leadInWords, round } from './site-words.js';

/** What the lead in a joint is reckoned from. */
export function SiteLead({ site }: { readonly site: Schemas['Site'] }) {
  const { estimate, measuredPct } = site.lead;
  return (
    <section>
      <h3>Lead in the joint: {leadInWords(site)}</h3>
      {measuredPct !== null && <p>A measurement counts before any estimate.</p>}
      {estimate === null ? (
        measuredPct === null && <p>Nothing was placed here that an estimate could be made from, and nobody measured.</p>
      ) : (
        <>
          <ul>
            {estimate.parts.map(({ name, alloy, massMg, leadMg }, n) => (
              <li key={n}>
                {name}, {alloy}: {round(massMg, 3)} mg, of which lead {round(leadMg, 4)} mg
              </li>
            ))}
          </ul>
          <p>{estimate.why.join('; ')}</p>
          <p className="quiet">{estimate.source}</p>
        </>
      )}
    </section>
  );
}
