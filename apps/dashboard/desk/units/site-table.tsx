import { useEffect, useState } from 'react';
import type { Schemas } from '../api/client.js';
import { SiteExplained } from './site-explained.js';
import { SiteRow } from './site-row.js';
import './site-table.css';

interface SiteTableProps {
  readonly unit: Schemas['Unit'];
  /** The site that the address names. */
  readonly selected: string | null;
}

/** The sites of a board: what is on each, what is left of it, and the state of its joint. */
export function SiteTable({ unit, selected }: SiteTableProps) {
  const [explained, setExplained] = useState<ReadonlySet<string>>(new Set());
  useEffect(() => {
    if (selected !== null) document.getElementById(rowId(selected))?.scrollIntoView({ block: 'nearest' });
  }, [selected]);
  const toggle = (refdes: string) => {
    setExplained((open) => new Set(open.has(refdes) ? [...open].filter((one) => one !== refdes) : [...open, refdes]));
  };
  return (
    <div className="scroll-x" role="region" aria-label="Table of sites" tabIndex={0}>
      <table className="rows site-table">
        <thead>
          <tr>
            <th scope="col">Site</th>
            <th scope="col">Device: heat left, in excursions</th>
            <th scope="col">Site: left of what is allowed</th>
            <th scope="col">Joint</th>
          </tr>
        </thead>
        {unit.sites.map((site) => (
          <tbody
            key={site.refdes}
            id={rowId(site.refdes)}
            className={site.refdes === selected ? 'site-table__selected' : ''}
            aria-current={site.refdes === selected ? 'true' : undefined}
          >
            <SiteRow
              unit={unit}
              site={site}
              explained={explained.has(site.refdes)}
              onExplain={() => {
                toggle(site.refdes);
              }}
            />
            {explained.has(site.refdes) && (
              <tr className="site-table__explained" id={`${rowId(site.refdes)}-explained`}>
                <td colSpan={4}>
                  <SiteExplained unit={unit} site={site} />
                </td>
              </tr>
            )}
          </tbody>
        ))}
      </table>
    </div>
  );
}

function rowId(refdes: string): string {
  return `site-${refdes}`;
}
