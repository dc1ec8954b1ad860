import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { Button } from '../kit/button.js';
import { Mark } from '../kit/marks.js';
import { paths } from '../paths.js';
import { useRole } from '../session/session-gate.js';
import { reasonWords } from '../words/words.js';
import { BudgetLeft } from './budget-left.js';
import { budgetsOfSite } from './budget-of.js';
import { SHORT_KINDS } from './budget-words.js';
import { SiteDevice } from './site-device.js';
import { SiteJoint } from './site-joint.js';
import { conditionOf } from './site-words.js';
import { HOUSE } from './unit-queries.js';

interface SiteRowProps {
  readonly unit: Schemas['Unit'];
  readonly site: Schemas['Site'];
  readonly explained: boolean;
  readonly onExplain: () => void;
}

export function SiteRow({ unit, site, explained, onExplain }: SiteRowProps) {
  const { refdes, part, side } = site;
  const budgets = budgetsOfSite(unit.budgets, site);
  const { tone, words } = conditionOf(site);
  const held = unit.holds.filter(({ subject }) => subject.kind === 'site' && subject.refdes === refdes);
  const mayPlan = useRole(...HOUSE) && unit.state === 'in-house';
  return (
    <tr>
      <th scope="row">
        <div className="site-row__site">
          <span className="site-row__refdes mono">{refdes}</span>
          <span className="quiet">
            {part ?? 'part not known'}
            {side !== null && `, ${side}`}
          </span>
          <Mark tone={tone}>{words}</Mark>
          {held.map(({ id, reason }) => (
            <Link key={id} href={paths.hold(id)}>
              <Mark tone="stop">held</Mark>
              <span className="unseen">: {reasonWords(reason)}</span>
            </Link>
          ))}
          {mayPlan && <Link href={paths.planFor(unit.assembly, unit.serial, refdes)}>Plan a rework</Link>}
          <Button tone="bare" className="site-row__explain" aria-expanded={explained} onClick={onExplain}>
            {explained ? 'Close' : 'Explain'}
            <span className="unseen"> the figures of {refdes}</span>
          </Button>
        </div>
      </th>
      <td>
        <SiteDevice unit={unit} site={site} budget={budgets.device} />
      </td>
      <td>
        <dl className="site-row__budgets">
          {budgets.site.map((budget) => (
            <div key={budget.limit}>
              <dt>{SHORT_KINDS[budget.limit]}</dt>
              <dd>
                <BudgetLeft budget={budget} />
              </dd>
            </div>
          ))}
        </dl>
      </td>
      <td>
        <SiteJoint site={site} />
      </td>
    </tr>
  );
}
