import { clockOfUnit } from '../book/dry-rules.js';
import { World } from '../book/state.js';
import { resolveLimit } from '../limits/resolve-limit.js';
import { limitPlace } from '../book/budgets.js';
import { isKnownDry } from '../moisture/dry-for-heat.js';
import { Rules } from '../setup/setup-data.js';
import { ClearedType, PlannedStep } from './clearance.js';
import { PlanWarning } from './plan-verdict.js';
import { PlanFrame } from './planned-event.js';

/** Steps in which hot gas or an oven may take a body above 200 C. */
const HOT: readonly ClearedType[] = [
  'heatbook.unit.reflowed.v1',
  'heatbook.device.removed.v1',
  'heatbook.device.placed.v1',
  'heatbook.site.heated.v1',
];

/**
 * A word before the heat where the board is not known to be dry: no body has been measured yet, so it may pass the 200 C
 * above which J-STD-033 asks for a dry board in local rework. It stops nothing; a clock that has run out does.
 * @param world as it is before the plan is played through
 */
export function dryBeforeHeat(
  world: World,
  rules: Rules,
  { subject: key, at }: PlanFrame,
  plans: readonly PlannedStep[],
): readonly PlanWarning[] {
  const unit = world.units.get(key);
  if (unit === undefined || !plans.some(({ type }) => HOT.includes(type))) return [];
  const { assembly, serial } = unit;
  const subject = { kind: 'unit', assembly, serial } as const;
  if (resolveLimit(rules, 'floor-life', limitPlace(world, rules, subject, at)) === undefined) return [];
  const clock = clockOfUnit(world, rules, unit, at);
  const dry = isKnownDry(clock);
  if (dry.dry || clock.state === 'expired') return [];
  return [
    {
      code: 'floor-life',
      subject,
      detail: `The board is not known to be dry (${dry.why}); a body above 200 C asks for that first.`,
      remedy: dry.remedy ?? 'Bake the board, or post its bake, before local rework above 200 C.',
    },
  ];
}
