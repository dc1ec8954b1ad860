import { Inject, Injectable } from '@nestjs/common';
import { emptyWorld } from '../../../libs/domain/book/state.js';
import { deviceKey, unitKey } from '../../../libs/domain/subject/subject.js';
import { ReadStore } from '../../../libs/ledger/ports/read-store.js';
import { deviceView, DeviceView } from '../../../libs/ledger/views/device-view.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';

/** Reads devices, each with the unit that carries it. */
@Injectable()
export class DeviceReader {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  /**
   * @param reads those of the caller: a device that these do not show is unknown
   * @throws ProblemError not-found
   */
  async read(reads: ReadStore, name: string): Promise<DeviceView> {
    const { setup, clock } = this.deps;
    await setup.catchUp();
    const rules = setup.latest();
    const key = deviceKey(name);
    const now = clock.now();
    const [record, holds, clearances] = await Promise.all([
      reads.subject(key),
      reads.holdsOn([key], ['open']),
      reads.openClearances([key], now),
    ]);
    if (record?.state?.kind !== 'device') throw unknownDevice(name);
    const device = record.state.state;
    const world = emptyWorld();
    for (const clearance of clearances) world.clearances.set(clearance.id, clearance);
    world.devices.set(name, device);
    const unit = device.place && (await reads.subject(unitKey(device.place.assembly, device.place.serial)));
    if (unit?.state?.kind === 'unit') world.units.set(unit.key, unit.state.state);
    return deviceView(world, rules, name, { holds, headHash: record.headHash, now });
  }
}

function unknownDevice(name: string): ProblemError {
  return new ProblemError(
    'not-found',
    `The book knows no device ${name}. One that came on a unit without a name is called {assembly}:{serial}:{refdes}.`,
  );
}
