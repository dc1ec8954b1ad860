import { lazy, Suspense } from 'react';
import type { Schemas } from '../api/client.js';
import { Waiting } from '../kit/states.js';
import { UnitBudgets } from './unit-budgets.js';
import { UnitDownloads } from './unit-downloads.js';
import { UnitMoisture } from './unit-moisture.js';
import type { UnitPart } from './unit-parts.js';
import { UnitSites } from './unit-sites.js';

// Long lists are loaded by who opens them.
const UnitRoute = lazy(() => import('./unit-route.js'));
const UnitHeats = lazy(() => import('./unit-heats.js'));
const UnitLedger = lazy(() => import('./unit-ledger.js'));

interface UnitPartShownProps {
  readonly unit: Schemas['Unit'];
  readonly part: UnitPart;
}

/** The part of a unit's page that the address names. */
export function UnitPartShown({ unit, part }: UnitPartShownProps) {
  return (
    <Suspense fallback={<Waiting what="this part" />}>
      <Part unit={unit} part={part} />
    </Suspense>
  );
}

function Part({ unit, part }: UnitPartShownProps) {
  switch (part) {
    case 'sites':
      return <UnitSites unit={unit} />;
    case 'budgets':
      return <UnitBudgets unit={unit} />;
    case 'moisture':
      return <UnitMoisture unit={unit} />;
    case 'route':
      return <UnitRoute assembly={unit.assembly} serial={unit.serial} />;
    case 'heats':
      return <UnitHeats assembly={unit.assembly} serial={unit.serial} />;
    case 'ledger':
      return <UnitLedger assembly={unit.assembly} serial={unit.serial} />;
    case 'downloads':
      return <UnitDownloads unit={unit} />;
  }
}
