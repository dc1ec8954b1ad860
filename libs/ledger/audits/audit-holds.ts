import { devicesAboard } from '../../domain/book/reach.js';
import { compareText, orderTime } from '../../domain/events/event-order.js';
import { deviceKey } from '../../domain/subject/subject.js';
import { HoldRecord, HoldState } from '../holds/hold-record.js';
import { ReadStore } from '../ports/read-store.js';
import { HoldView, holdView } from '../views/hold-view.js';
import { UnitReading } from '../views/read-unit.js';

const EVERY_STATE: readonly HoldState[] = ['open', 'released', 'withdrawn'];
const PAGE = 500;

/**
 * Every hold on a unit, its sites and the devices aboard, and those on devices that have left since which came to light on
 * it, whatever their state: oldest first.
 * @param reads those of the reader
 */
export async function auditHolds(reads: ReadStore, { state, record }: UnitReading): Promise<readonly HoldView[]> {
  const { assembly, serial } = state;
  const byId = new Map<string, HoldRecord>();
  const keep = (holds: readonly HoldRecord[]): void => {
    for (const hold of holds) byId.set(hold.id, hold);
  };
  keep(await reads.holdsOn([record.key, ...devicesAboard(state).map(deviceKey)], EVERY_STATE));
  let cursor: string | null = null;
  do {
    const page: Awaited<ReturnType<ReadStore['holds']>> = await reads.holds(
      { assembly, serial },
      { limit: PAGE, cursor },
    );
    keep(page.items);
    cursor = page.next;
  } while (cursor !== null);
  return [...byId.values()].sort(byAge).map(holdView);
}

function byAge(a: HoldRecord, b: HoldRecord): number {
  return compareText(orderTime(a.raisedAt), orderTime(b.raisedAt)) || compareText(a.id, b.id);
}
