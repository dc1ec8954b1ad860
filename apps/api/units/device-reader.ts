import { Inject, Injectable } from '@nestjs/common';
import { World } from '../../../libs/domain/book/state.js';
import { emptyWorld } from '../../../libs/domain/book/state.js';
import { Rules } from '../../../libs/domain/setup/setup-data.js';
import { isName } from '../../../libs/domain/subject/names.js';
import { deviceKey, unitKey } from '../../../libs/domain/subject/subject.js';
import { GENESIS_HASH } from '../../../libs/ledger/ports/seal.js';
import { deviceView, DeviceView } from '../../../libs/ledger/views/device-view.js';
import { worldOfUnit } from '../../../libs/ledger/views/devices-aboard.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { ProblemError } from '../http/problem.js';

/** A name made of three names and two colons is no longer than this; colons may also stand within each of the three. */
const MOST_COLONS = 12;

interface Placement {
  readonly assembly: string;
  readonly serial: string;
  readonly refdes: string;
}

/** Reads devices, also those that no event has touched since their board came in. */
@Injectable()
export class DeviceReader {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  /** @throws ProblemError not-found */
  async read(name: string): Promise<DeviceView> {
    const { reads, setup } = this.deps;
    await setup.catchUp();
    const rules = setup.latest();
    const key = deviceKey(name);
    const [record, holds] = await Promise.all([reads.subject(key), reads.holdsOn([key], ['open'])]);
    const world = record?.state?.kind === 'device' ? emptyWorld() : await this.untouched(name, rules);
    if (record?.state?.kind === 'device') world?.devices.set(name, record.state.state);
    if (world === undefined) throw unknownDevice(name);
    return deviceView(world, rules, name, { holds, headHash: record?.headHash ?? GENESIS_HASH });
  }

  /** The unit that carries a device named after its place, where nothing has happened to that device yet. */
  private async untouched(name: string, rules: Rules): Promise<World | undefined> {
    const placements = placementsOf(name).filter(({ assembly }) => rules.find('assembly', assembly) !== undefined);
    const keys = placements.map(({ assembly, serial }) => unitKey(assembly, serial));
    const records = keys.length === 0 ? [] : await this.deps.reads.subjects(keys);
    for (const { state } of records) {
      if (state?.kind !== 'unit') continue;
      const world = worldOfUnit(state.state, [], rules);
      if (world.devices.has(name)) return world;
    }
    return undefined;
  }
}

/** Every way to read a name as `{assembly}:{serial}:{refdes}`. */
function placementsOf(name: string): Placement[] {
  const parts = name.split(':');
  if (parts.length - 1 > MOST_COLONS) return [];
  const found: Placement[] = [];
  for (let first = 1; first < parts.length - 1; first += 1) {
    for (let second = first + 1; second < parts.length; second += 1) {
      const assembly = parts.slice(0, first).join(':');
      const serial = parts.slice(first, second).join(':');
      const refdes = parts.slice(second).join(':');
      if ([assembly, serial, refdes].every(isName)) found.push({ assembly, serial, refdes });
    }
  }
  return found;
}

function unknownDevice(name: string): ProblemError {
  return new ProblemError(
    'not-found',
    `The book knows no device ${name}. One that came on a unit without a name is called {assembly}:{serial}:{refdes}.`,
  );
}
