import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { copperInWords, inspectionsOf, leadInWords } from './site-words.js';

/** Pads and joint of a site: copper, lead, solder, and what inspections said. */
export function SiteJoint({ site }: { readonly site: Schemas['Site'] }) {
  const { alloys, remnant } = site;
  const inspections = inspectionsOf(site);
  return (
    <dl className="site-joint">
      <dt>Pad copper</dt>
      <dd>{copperInWords(site)}</dd>
      <dt>Lead</dt>
      <dd>{leadInWords(site)}</dd>
      <dt>Solder</dt>
      <dd>
        {alloys.length > 0 ? alloys.join(' + ') : remnant.alloy}
        {remnant.filmUm !== null && `, film of ${remnant.filmUm} µm was left`}
      </dd>
      <dt>Inspected</dt>
      <dd>
        {inspections.length === 0
          ? 'not here'
          : inspections.map(({ tone, words }) => (
              <Mark key={words} tone={tone}>
                {words}
              </Mark>
            ))}
      </dd>
    </dl>
  );
}
