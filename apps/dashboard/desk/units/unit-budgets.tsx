import type { Schemas } from '../api/client.js';
import { Block } from '../kit/page.js';
import { budgetsOfBoard, budgetsOfSite } from './budget-of.js';
import { BudgetBars } from './budget-bars.js';
import { DeviceName } from './site-device.js';
import { UnitWarnings } from './unit-warnings.js';

/** Everything that may be spent of a unit, its sites and the devices on them, and what was warned of. */
export function UnitBudgets({ unit }: { readonly unit: Schemas['Unit'] }) {
  return (
    <>
      <Block
        title="Budgets"
        note="Each notch is one: filled is used, striped is reserved by a clearance, empty is left; beyond the bold line is over the limit."
      >
        <BudgetBars title="The board" budgets={budgetsOfBoard(unit.budgets)} />
        {unit.sites.map((site) => {
          const { device, site: ofSite } = budgetsOfSite(unit.budgets, site);
          return (
            <div key={site.refdes}>
              <BudgetBars title={`Site ${site.refdes}`} budgets={ofSite} />
              {device !== undefined && site.device !== null && (
                <BudgetBars
                  title={`Device on ${site.refdes}`}
                  beside={<DeviceName device={site.device} on={site.refdes} />}
                  budgets={[device]}
                />
              )}
            </div>
          );
        })}
      </Block>
      <Block title="Warnings" note="They stop nothing.">
        <UnitWarnings warnings={unit.warnings} />
      </Block>
    </>
  );
}
