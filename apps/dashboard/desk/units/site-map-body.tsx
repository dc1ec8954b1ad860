import { Link } from 'wouter';
import { heatCells, placeCells } from './site-map-cells.js';
import type { DrawnSite } from './site-map-geometry.js';
import type { MappedSite } from './site-map-sites.js';

interface SiteMapBodyProps {
  readonly drawn: DrawnSite;
  readonly site: MappedSite;
  readonly selected: boolean;
  /** The heat of the site that is pointed at reaches it. */
  readonly reached: boolean;
  readonly path: string;
  readonly onPoint: (refdes: string | null) => void;
}

/** Narrower bodies have their name beside them. */
const NAME_WIDTH = 28;

/** One body: its name, the heat that it has seen, and whether it is held. It leads to the site's row in the table. */
export function SiteMapBody({ drawn, site, selected, reached, path, onPoint }: SiteMapBodyProps) {
  const { x, y, width, height, refdes } = drawn;
  const cells = site.budget === undefined ? [] : heatCells(site.budget);
  const placed = cells === undefined ? undefined : placeCells(cells, drawn);
  const looks = [
    'site-map__body',
    ...(site.held ? ['site-map__body--held'] : []),
    ...(selected ? ['site-map__body--selected'] : []),
    ...(reached ? ['site-map__body--reached'] : []),
  ];
  const point = () => {
    onPoint(refdes);
  };
  const leave = () => {
    onPoint(null);
  };
  const beside = width < NAME_WIDTH;
  return (
    <Link
      href={path}
      className={looks.join(' ')}
      aria-label={site.words}
      aria-current={selected ? 'true' : undefined}
      replace
      onMouseEnter={point}
      onMouseLeave={leave}
      onFocus={point}
      onBlur={leave}
    >
      <rect x={x} y={y} width={width} height={height} />
      <text x={beside ? x + width + 4 : x + 5} y={beside ? y + height / 2 + 5 : y + 15}>
        {site.held && '✕ '}
        {refdes}
      </text>
      {placed?.map(({ kind, over, x: dx, y: dy, size }, n) => (
        <rect
          key={n}
          className={`heat-cell heat-cell--${kind} ${over ? 'heat-cell--over' : ''}`}
          x={x + dx + (kind === 'left' ? size / 2 - 1.5 : 1)}
          y={y + dy + (kind === 'left' ? size / 2 - 1.5 : 1)}
          width={kind === 'left' ? 3 : size - 2}
          height={kind === 'left' ? 3 : size - 2}
        />
      ))}
      {placed === undefined && !beside && site.budget !== undefined && (
        <text className="site-map__figure" x={x + 6} y={y + 31}>
          {site.budget.used}/{site.budget.allowed ?? '–'}
        </text>
      )}
    </Link>
  );
}
