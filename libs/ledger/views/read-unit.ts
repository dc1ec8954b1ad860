import { devicesAboard } from '../../domain/book/reach.js';
import { unknownUnit } from '../../domain/book/evolve.js';
import { DeviceState, UnitState } from '../../domain/book/state.js';
import { deviceKey, unitKey } from '../../domain/subject/subject.js';
import { SubjectRecord } from '../ports/book-store.js';
import { Clock } from '../ports/clock.js';
import { ReadStore } from '../ports/read-store.js';
import { SetupBook } from '../setup/setup-book.js';
import { unitView, UnitView } from './unit-view.js';

/** What the book has of a unit: its record and its view, read together. */
export interface UnitReading {
  readonly state: UnitState;
  readonly record: SubjectRecord;
  readonly view: UnitView;
}

/**
 * Reads a unit with the devices that it carries.
 * @param reads those of whoever asks: a unit that these do not show is unknown
 * @returns undefined where the unit is unknown
 */
export async function readUnit(
  { reads, setup, clock }: { readonly reads: ReadStore; readonly setup: SetupBook; readonly clock: Clock },
  { assembly, serial }: { readonly assembly: string; readonly serial: string },
): Promise<UnitReading | undefined> {
  await setup.catchUp();
  const key = unitKey(assembly, serial);
  const record = await reads.subject(key);
  if (record === undefined || record.headSeq === 0) return undefined;
  // Where everything that was said of it is struck, its ledger stays, and whoever asks for it must still get it.
  const state = record.state?.kind === 'unit' ? record.state.state : unknownUnit(assembly, serial);
  const keys = devicesAboard(state).map(deviceKey);
  const now = clock.now();
  const [devices, holds, clearances, newest] = await Promise.all([
    reads.subjects(keys),
    reads.holdsOn([key, ...keys], ['open']),
    reads.openClearances([key, ...keys], now),
    reads.ledger(key, { limit: 1, order: 'desc', afterSeq: null }),
  ]);
  const facts = {
    unit: state,
    devices: deviceStates(devices),
    holds,
    clearances,
    headHash: record.headHash,
    changedAt: newest[0]?.recordedAt ?? null,
    now,
  };
  return { state, record, view: unitView(facts, setup.latest()) };
}

function deviceStates(records: readonly SubjectRecord[]): DeviceState[] {
  return records.flatMap(({ state }) => (state?.kind === 'device' ? [state.state] : []));
}
