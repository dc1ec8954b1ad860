import { emptyWorld, World } from '../../libs/domain/book/state.js';
import { Clearance, ClearanceStep, PlannedStep } from '../../libs/domain/clearance/clearance.js';
import { Draft } from './domain-events.js';

/** A step of a clearance that reserves nothing, so that a test sees what is matched. */
function clearanceStep(plan: PlannedStep): ClearanceStep {
  return { plan, device: plan.device ?? null, reserves: [], use: null };
}

/** A clearance for the board of the domain tests, granted before its heats and good for the whole day. */
export function clearance(plans: readonly PlannedStep[], given: Partial<Clearance> = {}): Clearance {
  return {
    id: 'C1',
    subject: 'BRD/0001',
    grantedAt: '2031-03-03T05:45:00.000Z',
    expiresAt: '2031-03-04T05:45:00.000Z',
    returnedAt: null,
    steps: plans.map(clearanceStep),
    ...given,
  };
}

export function worldWith(...clearances: readonly Clearance[]): World {
  return { ...emptyWorld(), clearances: new Map(clearances.map((one) => [one.id, one])) };
}

/** The same fact, naming a clearance. */
export function cleared(draft: Draft, id = 'C1'): Draft {
  return { ...draft, data: { ...draft.data, clearance: id } } as Draft;
}
