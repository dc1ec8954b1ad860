import { Inject, Injectable } from '@nestjs/common';
import { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import { readUnit, UnitReading } from '../../../libs/ledger/views/read-unit.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';

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
    const reading = await readUnit({ reads, setup, clock }, { assembly, serial });
    if (reading === undefined) throw unknownUnit(assembly, serial);
    return reading;
  }
}

function unknownUnit(assembly: string, serial: string): ProblemError {
  return new ProblemError(
    'not-found',
    `There is no unit ${serial} of assembly ${assembly} to show; GET /v1/units lists them. Where events of it were posted, GET /v1/events says what became of each.`,
  );
}
