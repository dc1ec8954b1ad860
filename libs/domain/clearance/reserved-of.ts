import { World } from '../book/state.js';
import { BudgetKind } from '../limits/limit-rule.js';
import { Subject, subjectKey } from '../subject/subject.js';
import { reservationsOf } from './clearance.js';

/**
 * What the clearances of a world hold back of a budget, all of which must be open.
 * @param countPossible whether the limit spends what is only possible
 */
export function reservedOf(
  world: Pick<World, 'clearances' | 'devices'>,
  subject: Subject,
  kind: BudgetKind,
  countPossible: boolean,
): number {
  const key = subjectKey(subject);
  const rows = [...world.clearances.values()]
    .flatMap(reservationsOf)
    .filter((row) => row.limit === kind && subjectKey(knownAs(world, row.subject)) === key);
  return rows.reduce((sum, { counted, possible }) => sum + counted + (countPossible ? possible : 0), 0);
}

/** A device whose label was read since is meant by its old name too. */
export function knownAs(world: Pick<World, 'devices'>, subject: Subject): Subject {
  if (subject.kind !== 'device') return subject;
  const device = world.devices.get(subject.device);
  return device?.status === 'renamed' && device.knownAs !== null ? { kind: 'device', device: device.knownAs } : subject;
}
