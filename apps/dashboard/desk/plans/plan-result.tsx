import { useState } from 'react';
import type { Schemas } from '../api/client.js';
import { Mark } from '../kit/marks.js';
import { Block } from '../kit/page.js';
import { useNow } from '../kit/when.js';
import { useLimits } from '../limits/limit-queries.js';
import { useAssembly } from '../units/unit-queries.js';
import { useWide } from '../units/use-wide.js';
import { methodWords } from '../words/words.js';
import { ClearanceAsk } from './clearance-ask.js';
import { Reasons } from './plan-answers.js';
import { PlanCards } from './plan-cards.js';
import { gapMm, houseFigure, sharedCautions, sharedReasons } from './plan-figures.js';
import type { PlanMeasure } from './plan-questions.js';
import { PlanRoute } from './plan-route.js';
import { PlanTable } from './plan-table.js';
import type { PlanWish } from './plan-wish.js';

interface PlanResultProps {
  readonly plan: Schemas['MethodPlan'];
  readonly wish: PlanWish;
  readonly unit: Schemas['Unit'];
  /** The device that is to be placed, once the book was asked for it. */
  readonly newDevice: Schemas['Device'] | undefined;
}

/** The methods side by side, the route of the one that is taken, and the clearance for it. */
export function PlanResult({ plan, wish, unit, newDevice }: PlanResultProps) {
  const [taken, setTaken] = useState<Schemas['PlanRow']['method'] | null>(null);
  const isWide = useWide();
  const measure = usePlanMeasure({ plan, unit, newDevice });
  const row = plan.rows.find(({ method }) => method === (taken ?? plan.cheapest)) ?? plan.rows[0];
  const pick = { measure, chosen: row?.method ?? null, onChoose: setTaken };
  return (
    <>
      <Block title={`Four ways to dress ${plan.refdes}`} note={plan.why}>
        <p className="plan-cautions">
          <Mark tone="caution">mind</Mark> {sharedCautions(plan.rows).join(' ')}
        </p>
        <AgainstAll plan={plan} />
        {isWide ? <PlanTable {...pick} /> : <PlanCards {...pick} />}
      </Block>
      {row !== undefined && (
        <div className="plan-below">
          <Block title={`The route with ${methodWords(row.method).toLowerCase()}`}>
            <PlanRoute row={row} newDevice={wish.goal === 'new-device' ? wish.device : ''} />
          </Block>
          <Block
            title="Ask for clearance"
            note="What the route spends is then reserved until it is used, given back or has lapsed."
          >
            <ClearanceAsk key={row.method} row={row} wish={wish} />
          </Block>
        </div>
      )}
    </>
  );
}

/** What stands against every method, and what would be left to ask the customer for where none fits. */
function AgainstAll({ plan: { rows, concession } }: Pick<PlanResultProps, 'plan'>) {
  const against = sharedReasons(rows);
  if (against.length === 0 && concession === undefined) return null;
  const isStopped = concession !== undefined || against.some(({ blocks }) => blocks);
  return (
    <div className={isStopped ? 'plan-against plan-against--stop' : 'plan-against'}>
      {against.length > 0 && (
        <>
          <h3>Against all four</h3>
          <Reasons reasons={against} />
        </>
      )}
      {concession !== undefined && <Concession concession={concession} />}
    </div>
  );
}

/** Nothing fits as it is: what the customer would have to allow. */
function Concession({ concession }: { readonly concession: NonNullable<Schemas['MethodPlan']['concession']> }) {
  const { method, needs } = concession;
  return (
    <>
      <h3>None fits</h3>
      <p>{methodWords(method)} would, if the customer allowed by a concession:</p>
      <ul className="plan-list">
        {needs.map(({ code, subject, asks, detail }) => (
          <li key={code + subject.name}>
            <strong className="mono">{subject.name}</strong>: {asks === undefined ? detail : asksInWords(asks)}
          </li>
        ))}
      </ul>
    </>
  );
}

function asksInWords({ allowed, needed }: NonNullable<Schemas['PlanReason']['asks']>): string {
  return `${String(needed)} instead of the ${String(allowed)} allowed`;
}

function usePlanMeasure({ plan, unit, newDevice }: Omit<PlanResultProps, 'wish'>): PlanMeasure {
  const design = useAssembly(unit.assembly);
  const limits = useLimits();
  const nowMs = useNow();
  const known = limits.hasNextPage ? [] : (limits.data?.pages.flatMap(({ items }) => items) ?? []);
  const onSite = unit.sites.find(({ refdes }) => refdes === plan.refdes)?.device ?? null;
  return {
    plan,
    budgets: [...unit.budgets, ...(newDevice?.budgets ?? [])],
    device: plan.goal === 'reuse-device' ? onSite : (newDevice?.device ?? null),
    gapMm: (neighbour) => gapMm(design.data?.sites ?? [], plan.refdes, neighbour),
    copperLeastUm: houseFigure(known, 'pad-copper-min', nowMs),
    leadMostPct: houseFigure(known, 'joint-lead-max', nowMs),
  };
}
