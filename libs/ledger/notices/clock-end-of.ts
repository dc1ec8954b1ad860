import { ClockEnd, clockEndOfDevice, clockEndOfUnit } from '../../domain/book/clock-end.js';
import { Effect } from '../../domain/book/effect.js';
import { World } from '../../domain/book/state.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { SubjectState } from '../ports/book-store.js';

/** When the floor life of a subject ends, judged in a world with the devices that it carries; null where none does. */
export function clockEndOf(world: World, rules: Rules, subject: SubjectState | null): ClockEnd | null {
  switch (subject?.kind) {
    case 'unit':
      return clockEndOfUnit(world, rules, subject.state);
    case 'device':
      return clockEndOfDevice(rules, subject.state);
    case 'station':
    case undefined:
      return null;
  }
}

/** What changes where a floor life ends: what is told of moisture, and which device is where. */
const MOVING: ReadonlySet<Effect['kind']> = new Set<Effect['kind']>([
  'moisture',
  'unit-status',
  'device-status',
  'device-opened',
  'device-described',
  'device-named',
  'mounted',
  'unmounted',
]);

/** Whether an event may have moved the end of a floor life: most do not, and need not pay for reading it anew. */
export function mayMoveClocks(effects: readonly Effect[]): boolean {
  return effects.some(({ kind }) => MOVING.has(kind));
}
