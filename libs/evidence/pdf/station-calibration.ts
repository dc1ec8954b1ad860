import { orderTime } from '../../domain/events/event-order.js';
import { StationData } from '../../domain/setup/setup-data.js';
import { StoredRevision } from '../../ledger/ports/setup-store.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { shownTime } from './shown-values.js';
import { stationOf } from './story-entry.js';

/** A station as the setup had it when an entry was judged. */
export interface StationThen {
  readonly name: string;
  readonly revision: number | null;
  readonly data: StationData | undefined;
  /** Whether its calibration was still good at the time that the entry tells; undefined where no due date was set. */
  readonly valid: boolean | undefined;
}

/** The station that told an entry, by the revision of its setup that was in force; undefined where none did. */
export function stationThen(entry: SealedEntry, configuration: readonly StoredRevision[]): StationThen | undefined {
  const name = stationOf(entry);
  if (name === undefined) return undefined;
  const found = configuration.findLast(
    (one) => one.kind === 'station' && one.name === name && one.version <= entry.rules,
  );
  const data = found?.kind === 'station' ? found.body : undefined;
  const due = data?.calibrationDueAt;
  const valid = due === undefined ? undefined : orderTime(entry.time) < orderTime(due);
  return { name, revision: found?.revision ?? null, data, valid };
}

export function calibrationWords({ data, valid }: StationThen): string {
  const due = data?.calibrationDueAt;
  if (due === undefined) return 'no calibration date set';
  return valid === true ? `calibration valid, due ${due.slice(0, 10)}` : `calibration OVERDUE since ${shownTime(due)}`;
}
