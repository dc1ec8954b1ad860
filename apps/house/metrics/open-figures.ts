import { Gauge } from 'prom-client';
import { BookPartDeps, bookParts } from './book-parts.js';
import { Figures } from './figures.js';
import { poolFigures, PoolState } from './pool-figures.js';
import { ProcessFigures } from './process-figures.js';
import { LOOK_SETTINGS, LookSettings, TimedLook } from './timed-look.js';

/** The figures that every process of the house has; what api and worker count themselves they add. */
export function openFigures(
  deps: BookPartDeps & { readonly pools?: Readonly<Record<string, PoolState>> },
  settings: LookSettings = LOOK_SETTINGS,
): Figures {
  const figures = new Figures();
  const { registry } = figures;
  // Before anything is asked for on behalf of whoever looks: that would be counted as waiting.
  figures.add(poolFigures(deps.pools ?? {}, registry));
  figures.add(new ProcessFigures(registry));
  const up = new Gauge({
    name: 'heatbook_part_up',
    help: '1 where it answered in time when it was last asked; while it is 0 its figures are left out.',
    labelNames: ['part'],
    registers: [registry],
  });
  for (const part of bookParts(deps, registry)) figures.add(new TimedLook(part, up, settings));
  return figures;
}
