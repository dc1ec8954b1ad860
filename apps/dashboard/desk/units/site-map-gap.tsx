import type { Gap } from './site-map-geometry.js';

/** The way of the heat from one body to its neighbour, with the gap as the setup has it. */
export function SiteMapGap({ line, gapMm }: { readonly line: Gap; readonly gapMm: number }) {
  const { x1, y1, x2, y2 } = line;
  const words = `${gapMm} mm`;
  const width = words.length * 6.6 + 7;
  // Below a line that runs across, where bodies are empty; on one that runs up, between bodies.
  const below = Math.abs(x2 - x1) > Math.abs(y2 - y1) ? 12 : 0;
  const [x, y] = [(x1 + x2) / 2, (y1 + y2) / 2 + below];
  return (
    <g className="site-map__gap" aria-hidden="true">
      <line x1={x1} y1={y1} x2={x2} y2={y2} />
      <rect x={x - width / 2} y={y - 8} width={width} height={16} />
      <text x={x} y={y + 4} textAnchor="middle">
        {words}
      </text>
    </g>
  );
}
