import type { UseQueryResult } from '@tanstack/react-query';
import type { Schemas } from '../api/client.js';
import { Waiting } from '../kit/states.js';
import { GoalChoice } from './goal-choice.js';
import { NotKnown } from './not-known.js';
import type { PlanWish } from './plan-wish.js';
import { SiteChoice } from './site-choice.js';
import { UnitChoice } from './unit-choice.js';
import './plan-choice.css';

interface PlanChoiceProps {
  readonly wish: PlanWish;
  readonly unit: UseQueryResult<Schemas['Unit']>;
  readonly newDevice: UseQueryResult<Schemas['Device']>;
  readonly onChange: (wish: PlanWish) => void;
}

/** Unit, site and goal: a serial is scanned or typed, the rest is chosen from what the unit has. */
export function PlanChoice({ wish, unit, newDevice, onChange }: PlanChoiceProps) {
  const { assembly, serial, refdes } = wish;
  const site = unit.data?.sites.find((one) => one.refdes === refdes);
  return (
    <div className="plan-choice">
      <UnitChoice wish={wish} onChange={onChange} />
      <div>
        {unit.isLoading && <Waiting what="the unit" />}
        {unit.isError && unit.data === undefined && (
          <NotKnown error={unit.error} retry={() => void unit.refetch()}>
            The book has no unit {serial} of {assembly}. Scan the serial alone to find it; a unit is known once it was
            received.
          </NotKnown>
        )}
        {unit.data !== undefined && <SiteChoice unit={unit.data} wish={wish} onChange={onChange} />}
      </div>
      <GoalChoice wish={wish} part={site?.part ?? undefined} newDevice={newDevice} onChange={onChange} />
    </div>
  );
}
