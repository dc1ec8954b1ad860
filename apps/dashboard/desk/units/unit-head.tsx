import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { useNow, When } from '../kit/when.js';
import { paths } from '../paths.js';
import { Mark } from '../kit/marks.js';
import { tightest, whoseBudget } from './budget-of.js';
import { leftInWords, SHORT_KINDS } from './budget-words.js';
import { clockInWords } from './moisture-words.js';
import { unitStateWords } from './site-words.js';
import { UnitHash } from './unit-hash.js';
import { partPath } from './unit-parts.js';
import './unit-head.css';

/** What one wants to know of a unit before anything else. */
export function UnitHead({ unit }: { readonly unit: Schemas['Unit'] }) {
  const { workOrder, complaint, moisture, changedAt, headHash, view } = unit;
  const path = paths.unit(unit.assembly, unit.serial);
  const clock = clockInWords(moisture, useNow());
  const [least] = tightest(unit.budgets, 1);
  return (
    <>
      <dl className="unit-head">
        <div>
          <dt>State</dt>
          <dd>{unitStateWords(unit.state)}</dd>
        </div>
        <div>
          <dt>Work order</dt>
          <dd className="mono">{workOrder ?? 'none told'}</dd>
        </div>
        <div>
          <dt>Complaint</dt>
          <dd>{complaint ?? 'none told'}</dd>
        </div>
        {least !== undefined && (
          <div>
            <dt>Least left</dt>
            <dd>
              <Link href={partPath(path, 'budgets')}>
                <LeastLeft unit={unit} budget={least} />
              </Link>
            </dd>
          </div>
        )}
        <div>
          <dt>Floor life</dt>
          <dd>
            <Link href={partPath(path, 'moisture')}>{clock.words}</Link>
          </dd>
        </div>
        <div>
          <dt>Newest entry</dt>
          <dd>
            {changedAt === null ? 'none' : <When at={changedAt} />}, <UnitHash hash={headHash} />
          </dd>
        </div>
      </dl>
      {view !== undefined && (
        <p className="unit-head__view">
          <Mark>your view</Mark> Left out here: {view.leftOut.join('; ')}.
        </p>
      )}
    </>
  );
}

interface LeastLeftProps {
  readonly unit: Schemas['Unit'];
  readonly budget: Schemas['Budget'];
}

function LeastLeft({ unit, budget }: LeastLeftProps) {
  const { figure, of } = leftInWords(budget);
  const { limit } = budget;
  return (
    <>
      {whoseBudget(unit, budget)}: {SHORT_KINDS[limit].toLowerCase()}, {figure} {of}
    </>
  );
}
