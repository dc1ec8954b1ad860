import { devicesAboard } from '../../libs/domain/book/reach.js';
import { Tally, usedOf } from '../../libs/domain/book/tally.js';
import { holdSubjectKey } from '../../libs/domain/holds/hold-subject.js';
import { SubjectState } from '../../libs/ledger/ports/book-store.js';
import { ReadStore } from '../../libs/ledger/ports/read-store.js';

/** What must come out the same whatever the way in which facts arrive. */
export interface Picture {
  readonly tallies: Record<string, { used: number; possible: number; basis: string }>;
  readonly places: Record<string, string>;
  readonly sites: Record<string, string>;
  /** Open holds, as `reason subject`. */
  readonly holds: readonly string[];
  readonly units: Record<string, string>;
}

/** Draws a book by what its readers see. */
export async function pictureOf(reads: ReadStore): Promise<Picture> {
  const picture = { tallies: {}, places: {}, sites: {}, holds: [] as string[], units: {} } satisfies Picture;
  const devices = new Set<string>();
  for (let cursor: string | null = null; ;) {
    const page = await reads.units({}, { limit: 500, cursor });
    for (const { assembly, serial } of page.items) {
      const record = await reads.subject(`${assembly}/${serial}`);
      if (record?.state?.kind !== 'unit') continue;
      draw(picture, record.key, record.state);
      for (const device of [...record.state.state.devicesSeen, ...devicesAboard(record.state.state)])
        devices.add(device);
    }
    cursor = page.next;
    if (cursor === null) break;
  }
  for (const record of await reads.subjects([...devices].map((device) => `devices/${device}`))) {
    if (record.state !== null) draw(picture, record.key, record.state);
  }
  const holds = await reads.holds({ state: 'open' }, { limit: 500, cursor: null });
  picture.holds = holds.items.map(({ reason, subject }) => `${reason} ${holdSubjectKey(subject)}`).sort();
  return picture;
}

function draw(picture: Picture, key: string, subject: SubjectState): void {
  const tally = (name: string, value: Tally): void => {
    picture.tallies[`${key} ${name}`] = {
      used: usedOf(value),
      possible: value.possible.length,
      basis: value.prior.basis,
    };
  };
  if (subject.kind === 'device') {
    const { place, status, excursions } = subject.state;
    picture.places[key] = place === null ? status : `${place.assembly}/${place.serial}#${place.refdes}`;
    tally('device-excursions', excursions);
  } else if (subject.kind === 'unit') {
    picture.units[key] = subject.state.status;
    tally('unit-reflows', subject.state.reflows);
    for (const [refdes, site] of Object.entries(subject.state.sites)) {
      picture.sites[`${key}#${refdes}`] = `${site.device ?? 'empty'} ${site.condition}`;
      tally(`${refdes} site-reworks`, site.reworks);
      tally(`${refdes} site-dressings`, site.dressings);
      tally(`${refdes} site-excursions`, site.excursions);
    }
  }
}
