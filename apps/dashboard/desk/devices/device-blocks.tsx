import type { Schemas } from '../api/client.js';
import { Block } from '../kit/page.js';
import { Loaded } from '../kit/states.js';
import { BudgetExplained } from '../units/budget-explained.js';
import { BudgetLeft } from '../units/budget-left.js';
import { MoistureClock } from '../units/moisture-clock.js';
import { round } from '../units/site-words.js';
import { UnitWarnings } from '../units/unit-warnings.js';
import { DeviceHeats } from './device-heats.js';
import { DeviceLedger } from './device-ledger.js';
import { hasOwnLedger } from './has-own-ledger.js';
import { useDeviceStory } from './device-queries.js';
import { DeviceTrail } from './device-trail.js';
import './device-blocks.css';

/** What the page of a device is made of. */
export function DeviceBlocks({ device }: { readonly device: Schemas['Device'] }) {
  const { budgets, counted, possible, moisture, looseBake, warnings } = device;
  const story = useDeviceStory(device.device);
  return (
    <div className="device-blocks">
      <Block title="Heat left, in excursions">
        {budgets.length === 0 && (
          <p className="quiet">No limit is known for it: it has no part, or the setup has none.</p>
        )}
        {budgets.map((budget) => (
          <div key={budget.limit} className="device-blocks__budget">
            <BudgetLeft budget={budget} large />
            <BudgetExplained budget={budget} />
          </div>
        ))}
      </Block>
      <Block title="Where it is and has been">
        <Loaded query={story} what="its ledger">
          {({ items, nextCursor }) => <DeviceTrail device={device} entries={items} more={nextCursor !== null} />}
        </Loaded>
      </Block>
      <Block
        title="Its excursions"
        note="Each heat that was counted, with the reading or the step that it was counted by."
      >
        <DeviceHeats counted={counted} possible={possible} prior={budgets[0]?.inputs.prior} />
      </Block>
      <Block title="Moisture">
        <MoistureClock clock={moisture} title="Floor life" />
        <p>
          Baked loose for {round(looseBake.usedH, 1)} of {looseBake.allowedH} h
          {looseBake.exceeded ? ', which is more than allowed' : ''}.{' '}
          <span className="quiet">{looseBake.reference}</span>
        </p>
      </Block>
      <Block title="Warnings" note="They stop nothing.">
        <UnitWarnings warnings={warnings} />
      </Block>
      {hasOwnLedger(device) && <DeviceLedger device={device.device} />}
    </div>
  );
}
