import { holdSubjectKey } from '../../libs/domain/holds/hold-subject.js';
import { Subject } from '../../libs/domain/subject/subject.js';
import { UnitRow } from '../../libs/ledger/ports/read-store.js';
import { BudgetView } from '../../libs/ledger/views/budget-view.js';
import { DeviceView } from '../../libs/ledger/views/device-view.js';
import { HoldView } from '../../libs/ledger/views/hold-view.js';
import { UnitView } from '../../libs/ledger/views/unit-view.js';
import { Picture } from './book-picture.js';
import { BookClient } from './process-client.js';

/**
 * The picture of a book, drawn from what its API says.
 * @param expected devices to look for; those that have a ledger are found without being named
 */
export async function pictureOverHttp(client: BookClient, expected: Iterable<string>): Promise<Picture> {
  const picture = { tallies: {}, places: {}, sites: {}, holds: [] as string[], units: {} } satisfies Picture;
  const devices = new Set(expected);
  for (const { assembly, serial } of (await client.list('/v1/units')) as UnitRow[]) {
    const path = `/v1/units/${assembly}/${serial}`;
    const [view, audit] = await Promise.all([client.get(path), client.get(`${path}/audit?format=json`)]);
    drawUnit(picture, view as UnitView);
    for (const { device } of (audit as { devices: { device: string }[] }).devices) devices.add(device);
  }
  for (const device of devices) drawDevice(picture, (await client.get(`/v1/devices/${device}`)) as DeviceView);
  const holds = (await client.list('/v1/holds?state=open')) as HoldView[];
  picture.holds = holds.map(({ reason, subject }) => `${reason} ${holdSubjectKey(subject)}`).sort();
  return picture;
}

function drawUnit(picture: Picture, { assembly, serial, state, sites, budgets }: UnitView): void {
  const key = `${assembly}/${serial}`;
  picture.units[key] = state;
  for (const { refdes, device, condition } of sites) {
    picture.sites[`${key}#${refdes}`] = `${device ?? 'empty'} ${condition}`;
  }
  for (const budget of budgets) {
    if (budget.subject.kind !== 'device') picture.tallies[nameOf(key, budget.subject, budget.limit)] = tallyOf(budget);
  }
}

function drawDevice(picture: Picture, { device, place, status, budgets }: DeviceView): void {
  const key = `devices/${device}`;
  picture.places[key] = place === null ? status : `${place.assembly}/${place.serial}#${place.refdes}`;
  for (const budget of budgets) picture.tallies[`${key} ${budget.limit}`] = tallyOf(budget);
}

function nameOf(key: string, subject: Subject, limit: string): string {
  return subject.kind === 'site' ? `${key} ${subject.refdes} ${limit}` : `${key} ${limit}`;
}

function tallyOf({ used, possible, inputs }: BudgetView): Picture['tallies'][string] {
  return { used, possible, basis: inputs.prior.basis };
}
