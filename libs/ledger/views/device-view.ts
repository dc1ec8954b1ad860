import { DeviceState, World } from '../../domain/book/state.js';
import { deviceOf } from '../../domain/book/evolve.js';
import { Count } from '../../domain/book/tally.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { HoldRecord } from '../holds/hold-record.js';
import { BudgetView, budgetView } from './budget-view.js';
import { HoldView, holdView } from './hold-view.js';

/** A device as the book has it now, wherever it is. */
export interface DeviceView extends Pick<
  DeviceState,
  | 'device'
  | 'part'
  | 'status'
  | 'knownAs'
  | 'place'
  | 'lot'
  | 'dateCode'
  | 'owner'
  | 'balls'
  | 'warnings'
  | 'moisture'
  | 'unitsSeen'
> {
  readonly budgets: readonly BudgetView[];
  readonly holds: readonly HoldView[];
  readonly headHash: string;
  /** Every excursion that it is counted to have seen, on whatever board, in the order of entry. */
  readonly counted: readonly Count[];
  /** Excursions that it may have seen. */
  readonly possible: readonly Count[];
}

/** @throws Error where `world` lacks the device */
export function deviceView(
  world: World,
  rules: Rules,
  name: string,
  { holds, headHash }: { readonly holds: readonly HoldRecord[]; readonly headHash: string },
): DeviceView {
  const state = deviceOf(world, name);
  const { device, part, status, knownAs, place, lot, dateCode, owner, balls, warnings, moisture, unitsSeen } = state;
  return {
    ...{ device, part, status, knownAs, place, lot, dateCode, owner, balls },
    budgets: [budgetView(world, rules, { kind: 'device', device }, 'device-excursions')],
    holds: holds.map(holdView),
    ...{ warnings, moisture, unitsSeen, headHash },
    counted: state.excursions.counted,
    possible: state.excursions.possible,
  };
}
