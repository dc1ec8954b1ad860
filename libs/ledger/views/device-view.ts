import { DeviceState, World } from '../../domain/book/state.js';
import { deviceClock } from '../../domain/book/dry-rules.js';
import { LooseBake, looseBake } from '../../domain/moisture/loose-bake.js';
import { MoistureClock } from '../../domain/moisture/moisture-clock.js';
import { deviceOf } from '../../domain/book/evolve.js';
import { Count } from '../../domain/book/tally.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { HoldRecord } from '../holds/hold-record.js';
import { BudgetView, budgetView } from './budget-view.js';
import { HoldView, holdView } from './hold-view.js';

/** A device as the book has it now, wherever it is. */
export interface DeviceView extends Pick<
  DeviceState,
  'device' | 'part' | 'status' | 'knownAs' | 'place' | 'lot' | 'dateCode' | 'owner' | 'balls' | 'warnings' | 'unitsSeen'
> {
  readonly budgets: readonly BudgetView[];
  readonly holds: readonly HoldView[];
  readonly headHash: string;
  readonly moisture: MoistureClock;
  /** Hours above 90 C in bakes of the loose device, of those that it may see. */
  readonly looseBake: LooseBake;
  /** Every excursion that it is counted to have seen, on whatever board, in the order of entry. */
  readonly counted: readonly Count[];
  /** Excursions that it may have seen. */
  readonly possible: readonly Count[];
}

/**
 * The device as it is at `now`, RFC 3339; its moisture clock runs on without an event.
 * @throws Error where `world` lacks the device
 */
export function deviceView(
  world: World,
  rules: Rules,
  name: string,
  { holds, headHash, now }: { readonly holds: readonly HoldRecord[]; readonly headHash: string; readonly now: string },
): DeviceView {
  const state = deviceOf(world, name);
  const { device, part, status, knownAs, place, lot, dateCode, owner, balls, warnings, unitsSeen } = state;
  return {
    ...{ device, part, status, knownAs, place, lot, dateCode, owner, balls },
    budgets: [budgetView(world, rules, { kind: 'device', device }, 'device-excursions', now)],
    holds: holds.map(holdView),
    ...{ warnings, unitsSeen, headHash },
    moisture: deviceClock(world, rules, state, now),
    looseBake: looseBake(state.moisture),
    counted: state.excursions.counted,
    possible: state.excursions.possible,
  };
}
