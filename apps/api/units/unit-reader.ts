import { Inject, Injectable } from '@nestjs/common';
import { devicesAboard } from '../../../libs/domain/book/reach.js';
import { DeviceState, UnitState } from '../../../libs/domain/book/state.js';
import { deviceKey, unitKey } from '../../../libs/domain/subject/subject.js';
import { SubjectRecord } from '../../../libs/ledger/ports/book-store.js';
import { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import { unitView, UnitView } from '../../../libs/ledger/views/unit-view.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';

/** What the book has of a unit: its record and its view, read together. */
export interface UnitReading {
  readonly state: UnitState;
  readonly record: SubjectRecord;
  readonly view: UnitView;
}

/** Reads units with the devices that they carry. */
@Injectable()
export class UnitReader {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  /**
   * @param reads those of the caller: a unit that these do not show is unknown
   * @throws ProblemError not-found
   */
  async read(reads: ReadStore, assembly: string, serial: string): Promise<UnitReading> {
    const { setup, clock } = this.deps;
    await setup.catchUp();
    const key = unitKey(assembly, serial);
    const record = await reads.subject(key);
    const state = record?.state?.kind === 'unit' ? record.state.state : undefined;
    if (record === undefined || state === undefined) throw unknownUnit(assembly, serial);
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
}

function deviceStates(records: readonly SubjectRecord[]): DeviceState[] {
  return records.flatMap(({ state }) => (state?.kind === 'device' ? [state.state] : []));
}

function unknownUnit(assembly: string, serial: string): ProblemError {
  return new ProblemError(
    'not-found',
    `There is no unit ${serial} of assembly ${assembly} to show; GET /v1/units lists them. Where events of it were posted, GET /v1/events says what became of each.`,
  );
}
