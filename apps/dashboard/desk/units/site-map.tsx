import { useState } from 'react';
import { drawSites } from './site-map-geometry.js';
import { SiteMapLegend } from './site-map-legend.js';
import { SiteMapReadout } from './site-map-readout.js';
import { SiteMapSide } from './site-map-side.js';
import type { MappedSite } from './site-map-sites.js';
import './site-map.css';

interface SiteMapProps {
  readonly sites: readonly MappedSite[];
  /** Address that selects a site. */
  readonly pathOf: (refdes: string) => string;
  readonly selected: string | null;
  /** The whole board is held. */
  readonly boardHeld: boolean;
}

/** The board drawn to scale: what heat each site has seen, and which neighbours its heat reaches. */
export function SiteMap({ sites, pathOf, selected, boardHeld }: SiteMapProps) {
  const [pointed, setPointed] = useState<string | null>(null);
  const drawing = drawSites(sites);
  const shown = sites.find(({ refdes }) => refdes === (pointed ?? selected));
  return (
    <div className="site-map">
      <div className="site-map__drawn">
        <div className="site-map__sides">
          {drawing.sides.map((side) => (
            <SiteMapSide
              key={side.side}
              side={side}
              drawing={drawing}
              sites={sites}
              shown={shown}
              selected={selected}
              boardHeld={boardHeld}
              pathOf={pathOf}
              onPoint={setPointed}
            />
          ))}
        </div>
        <SiteMapReadout sites={sites} shown={shown} />
      </div>
      <SiteMapLegend />
    </div>
  );
}
