import { useSearchParams } from 'wouter';
import type { Schemas } from '../api/client.js';
import { Block } from '../kit/page.js';
import { Empty, Loaded } from '../kit/states.js';
import { paths } from '../paths.js';
import { SiteMap } from './site-map.js';
import { mapSites } from './site-map-sites.js';
import { turnedToFit } from './site-map-turned.js';
import { partPath } from './unit-parts.js';
import { type AssemblyDesign, useAssembly, useParts } from './unit-queries.js';

/** The map of a unit's sites. Not for customers: how a board is laid out is for the house. */
export function UnitMap({ unit }: { readonly unit: Schemas['Unit'] }) {
  const design = useAssembly(unit.assembly);
  return (
    <Block title="Where the sites are">
      <Loaded query={design} what="the layout of the board">
        {(found) =>
          found.sites.length === 0 ? (
            <Empty title="The assembly lists no sites.">
              <p>Sites with their coordinates are entered in the setup of {unit.assembly}.</p>
            </Empty>
          ) : (
            <DrawnUnit unit={unit} design={found} />
          )
        }
      </Loaded>
    </Block>
  );
}

function DrawnUnit({ unit, design }: { readonly unit: Schemas['Unit']; readonly design: AssemblyDesign }) {
  const [params] = useSearchParams();
  const parts = useParts([...new Set(design.sites.map(({ part }) => part))]);
  const path = paths.unit(unit.assembly, unit.serial);
  return (
    <SiteMap
      sites={turnedToFit(mapSites(unit, design, parts))}
      selected={params.get('site')}
      pathOf={(refdes) => partPath(path, 'sites', refdes)}
      boardHeld={unit.holds.some(({ subject }) => subject.kind === 'unit')}
    />
  );
}
