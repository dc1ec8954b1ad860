import { useSearchParams } from 'wouter';
import type { Schemas } from '../api/client.js';
import { Block } from '../kit/page.js';
import { Empty } from '../kit/states.js';
import { useRole } from '../session/session-gate.js';
import { SiteTable } from './site-table.js';
import { UnitClearances } from './unit-clearances.js';
import { UnitMap } from './unit-map.js';
import { HOUSE } from './unit-queries.js';
import './unit-sites.css';

/** The sites as a table and as a map, and what is cleared to be done to them at this moment. */
export function UnitSites({ unit }: { readonly unit: Schemas['Unit'] }) {
  const [params] = useSearchParams();
  const isHouse = useRole(...HOUSE);
  // Both sides of a board need the width for themselves; without a map the table takes it.
  const stacked = !isHouse || new Set(unit.sites.map(({ side }) => side)).size > 1;
  return (
    <div className={`unit-sites ${stacked ? 'unit-sites--stacked' : ''}`}>
      <Block
        title="Sites and devices"
        note="An excursion is a heat that reached the melting range of the solder. Explain shows where a figure comes from."
      >
        {unit.sites.length === 0 ? (
          <Empty title="The book knows no site of this unit yet.">
            <p>They come with its assembly, when its first event is applied.</p>
          </Empty>
        ) : (
          <SiteTable unit={unit} selected={params.get('site')} />
        )}
      </Block>
      {isHouse && (
        <div className="unit-sites__aside">
          <UnitMap unit={unit} />
          <UnitClearances unit={unit} />
        </div>
      )}
    </div>
  );
}
