import type { Schemas } from '../api/client.js';
import { useRole } from '../session/session-gate.js';
import { BudgetExplained } from './budget-explained.js';
import { budgetsOfSite } from './budget-of.js';
import { SiteCopper } from './site-copper.js';
import { SiteHeats } from './site-heats.js';
import { SiteLead } from './site-lead.js';
import { HOUSE } from './unit-queries.js';
import './site-explained.css';

interface SiteExplainedProps {
  readonly unit: Schemas['Unit'];
  readonly site: Schemas['Site'];
}

/** Where each figure of a site comes from. */
export function SiteExplained({ unit, site }: SiteExplainedProps) {
  const { device, site: ofSite } = budgetsOfSite(unit.budgets, site);
  const isHouse = useRole(...HOUSE);
  return (
    <div className="site-explained">
      {device !== undefined && (
        <div>
          <BudgetExplained budget={device} />
          {isHouse && site.device !== null && <SiteHeats device={site.device} />}
        </div>
      )}
      {ofSite.map((budget) => (
        <BudgetExplained key={budget.limit} budget={budget} />
      ))}
      <SiteCopper site={site} />
      <SiteLead site={site} />
    </div>
  );
}
