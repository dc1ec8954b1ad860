import type { Schemas } from '../api/client.js';
import { Block } from '../kit/page.js';
import './unit-downloads.css';

const FORMS = [
  {
    format: 'json',
    title: 'Audit (JSON)',
    use: 'The whole history, sealed entry by entry. It can be checked offline, without trusting this service.',
  },
  {
    format: 'pdf',
    title: 'Report (PDF)',
    use: 'To read, print and send along: the history with its curves and signatures.',
  },
  { format: 'csv', title: 'Table (CSV)', use: 'An entry a line, for a spreadsheet.' },
  { format: 'epcis', title: 'EPCIS events', use: 'For a trading partner who takes events in GS1 EPCIS 2.0.' },
] as const;

/** The history of the unit in the forms in which it is handed out. */
export function UnitDownloads({ unit: { assembly, serial, headHash } }: { readonly unit: Schemas['Unit'] }) {
  const audit = `/v1/units/${encodeURIComponent(assembly)}/${encodeURIComponent(serial)}/audit`;
  return (
    <Block title="Downloads" note="Each has every entry up to the newest at the moment of download.">
      <ul className="unit-downloads">
        {FORMS.map(({ format, title, use }) => (
          <li key={format}>
            <a className="button" href={`${audit}?format=${format}`} download>
              {title}
            </a>
            <p>{use}</p>
          </li>
        ))}
      </ul>
      <p>
        Check it: <a href="/verify">open the check</a>, which reads the JSON file in the browser and sends it nowhere.
        The newest entry now has the hash <span className="mono unit-downloads__hash">{headHash}</span>.
      </p>
    </Block>
  );
}
