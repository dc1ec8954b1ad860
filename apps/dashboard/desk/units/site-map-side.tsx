import { type DrawnSide, gapBetween, type SiteDrawing } from './site-map-geometry.js';
import { SiteMapBody } from './site-map-body.js';
import { SiteMapGap } from './site-map-gap.js';
import type { MappedSite } from './site-map-sites.js';

interface SiteMapSideProps {
  readonly side: DrawnSide;
  readonly drawing: SiteDrawing;
  readonly sites: readonly MappedSite[];
  /** The site whose neighbours are shown. */
  readonly shown: MappedSite | undefined;
  readonly selected: string | null;
  readonly boardHeld: boolean;
  readonly pathOf: (refdes: string) => string;
  readonly onPoint: (refdes: string | null) => void;
}

const CAPTIONS = { top: 'Top', bottom: 'Bottom, seen from below: mirrored left to right' } as const;
/** A scale bar of that many mm. */
const BAR_MM = 10;

/** One side of a board. */
export function SiteMapSide(props: SiteMapSideProps) {
  const { side, drawing, sites, shown, selected, boardHeld, pathOf, onPoint } = props;
  const { width, height, scale } = drawing;
  const from = side.sites.find(({ refdes }) => refdes === shown?.refdes);
  const gaps = (shown?.neighbours ?? []).flatMap(({ refdes, gapMm }) => {
    const to = side.sites.find((one) => one.refdes === refdes);
    return from === undefined || to === undefined ? [] : [{ refdes, gapMm, line: gapBetween(from, to) }];
  });
  return (
    <figure className="site-map__side">
      <figcaption>{CAPTIONS[side.side]}</figcaption>
      <svg viewBox={`0 0 ${width} ${height + 22}`} role="group" aria-label={`Sites on the ${side.side}`}>
        <rect className={`site-map__area ${boardHeld ? 'site-map__area--held' : ''}`} width={width} height={height} />
        {side.sites.map((drawn) => {
          const site = sites.find(({ refdes }) => refdes === drawn.refdes);
          return (
            site !== undefined && (
              <SiteMapBody
                key={drawn.refdes}
                drawn={drawn}
                site={site}
                selected={drawn.refdes === selected}
                reached={gaps.some(({ refdes }) => refdes === drawn.refdes)}
                path={pathOf(drawn.refdes)}
                onPoint={onPoint}
              />
            )
          );
        })}
        {gaps.map(({ refdes, gapMm, line }) => (
          <SiteMapGap key={refdes} line={line} gapMm={gapMm} />
        ))}
        <g className="site-map__scale" aria-hidden="true">
          <path d={`M1 ${height + 7}v6h${BAR_MM * scale}v-6`} />
          <text x={BAR_MM * scale + 7} y={height + 16}>
            {BAR_MM} mm
          </text>
        </g>
      </svg>
    </figure>
  );
}
