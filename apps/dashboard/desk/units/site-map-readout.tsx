import type { MappedSite } from './site-map-sites.js';

interface SiteMapReadoutProps {
  readonly sites: readonly MappedSite[];
  readonly shown: MappedSite | undefined;
}

/** The site that is pointed at, and the neighbours that its heat reaches, in words. */
export function SiteMapReadout({ sites, shown }: SiteMapReadoutProps) {
  if (shown === undefined) {
    return (
      <p className="site-map__readout quiet">
        Point at a site, or tab to it, for its neighbours; click it or press Enter for its row in the table.
      </p>
    );
  }
  return (
    <div className="site-map__readout">
      <p>
        <strong>{shown.words}</strong>
      </p>
      {shown.neighbours.length === 0 ? (
        <p className="quiet">No site is listed as its neighbour.</p>
      ) : (
        <ul>
          {shown.neighbours.map(({ refdes, gapMm }) => {
            const neighbour = sites.find((site) => site.refdes === refdes);
            const across = neighbour !== undefined && neighbour.side !== shown.side;
            return (
              <li key={refdes}>
                {gapMm} mm{across && ', on the other side'}: {neighbour?.words ?? `${refdes}, not in the setup`}
              </li>
            );
          })}
        </ul>
      )}
    </div>
  );
}
