import { useParams, useSearchParams } from 'wouter';
import { Page } from '../kit/page.js';
import { Loaded } from '../kit/states.js';
import { nameIn } from '../paths.js';
import { UnitActions } from './unit-actions.js';
import { UnitHead } from './unit-head.js';
import { UnitPartNav } from './unit-part-nav.js';
import { UnitPartShown } from './unit-part-shown.js';
import { partOf } from './unit-parts.js';
import { useUnit } from './unit-queries.js';
import { UnitStops } from './unit-stops.js';

/** A unit: what stops it, what is left of what it may bear, and one part of its record at a time. */
export default function UnitPage() {
  const named = useParams<{ assembly: string; serial: string }>();
  const [assembly, serial] = [nameIn(named.assembly), nameIn(named.serial)];
  const [params] = useSearchParams();
  const unit = useUnit(assembly, serial);
  const part = partOf(params);
  return (
    <Page
      title={`${assembly} / ${serial}`}
      over={unit.data?.customer ?? 'Unit'}
      beside={unit.data !== undefined && <UnitActions unit={unit.data} />}
    >
      <Loaded query={unit} what="the unit">
        {(found) => (
          <>
            <UnitHead unit={found} />
            <UnitStops holds={found.holds} />
            <UnitPartNav unit={found} shown={part} />
            <UnitPartShown unit={found} part={part} />
          </>
        )}
      </Loaded>
    </Page>
  );
}
