const CELLS = [
  ['counted', 'counted'],
  ['counted heat-cell--over', 'over the limit'],
  ['reserved', 'reserved by a clearance'],
  ['possible', 'possible, not counted'],
  ['left', 'left'],
] as const;

/** What the signs on the map mean. */
export function SiteMapLegend() {
  return (
    <div className="site-map__legend">
      <p className="quiet">
        Excursions of the device, or, on a bare site, of the site. Bodies and distances are to scale, and bodies lie as
        the gaps between them tell; the edge of the board is not in the setup.
      </p>
      <ul aria-label="Signs on the map">
        {CELLS.map(([kind, words]) => (
          <li key={kind}>
            <svg viewBox="0 0 16 16" aria-hidden="true">
              <rect
                className={`heat-cell heat-cell--${kind}`}
                {...(kind === 'left' ? { x: 6.5, y: 6.5, width: 3, height: 3 } : { x: 2, y: 2, width: 12, height: 12 })}
              />
            </svg>
            {words}
          </li>
        ))}
        <li>
          <svg viewBox="0 0 16 16" aria-hidden="true" className="site-map__body--held">
            <rect x="2" y="2" width="12" height="12" />
          </svg>
          ✕ held
        </li>
      </ul>
      <svg width="0" height="0" aria-hidden="true" className="site-map__defs">
        <defs>
          <pattern id="heat-stripes" width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <rect width="2" height="4" />
          </pattern>
        </defs>
      </svg>
    </div>
  );
}
