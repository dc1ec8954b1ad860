import type { Schemas } from '../api/client.js';

/** Where a device was from a moment on, as its ledger tells it. */
export interface DevicePlace {
  /** RFC 3339: since when. */
  readonly at: string;
  /** `{assembly}/{serial}`; null: on no board. */
  readonly unit: string | null;
  readonly refdes: string | null;
  /** How it came there. */
  readonly how: string;
  /** Its ledger's entry that says so. */
  readonly seq: number;
}

type Fields = Readonly<Record<string, unknown>>;

/** The places of a device, in the order in which they were told. @param entries of its ledger, the oldest first */
export function devicePlaces(
  entries: readonly Pick<Schemas['Entry'], 'seq' | 'time' | 'effects'>[],
): readonly DevicePlace[] {
  return entries.flatMap(({ seq, time, effects }) =>
    effects.flatMap((effect) => {
      const place = placeOf(fieldsOf(effect));
      return place === undefined
        ? []
        : [{ at: place.at ?? time, unit: place.unit, refdes: place.refdes, how: place.how, seq }];
    }),
  );
}

interface Told {
  readonly at: string | undefined;
  readonly unit: string | null;
  readonly refdes: string | null;
  readonly how: string;
}

function placeOf(effect: Fields): Told | undefined {
  const at = textOf(effect['at']);
  switch (effect['kind']) {
    case 'mounted': {
      const place = fieldsOf(effect['place']);
      const how = effect['how'] === 'declared' ? 'came on it' : 'placed';
      return { at, unit: unitOf(place), refdes: textOf(place['refdes']) ?? null, how };
    }
    case 'unmounted': {
      const [unit, refdes] = [textOf(effect['unit']) ?? '', textOf(effect['refdes']) ?? ''];
      const fate = effect['to'] === 'scrapped' ? ' and scrapped' : '';
      return { at, unit: null, refdes: null, how: `taken off ${unit}, ${refdes}${fate}` };
    }
    case 'device-opened': {
      const place = fieldsOf(effect['place']);
      const unit = unitOf(place);
      return { at, unit, refdes: textOf(place['refdes']) ?? null, how: unit === null ? 'came in loose' : 'came on it' };
    }
    case 'device-status':
      return effect['status'] === 'scrapped' ? { at, unit: null, refdes: null, how: 'scrapped' } : undefined;
    default:
      return undefined;
  }
}

/** The name that a device had before its label was read; undefined where it always had its own. */
export function formerName(entries: readonly Pick<Schemas['Entry'], 'effects'>[]): string | undefined {
  for (const { effects } of entries) {
    for (const effect of effects.map(fieldsOf)) {
      if (effect['kind'] === 'device-named') return textOf(effect['formerly']);
    }
  }
  return undefined;
}

function unitOf(place: Fields): string | null {
  const [assembly, serial] = [textOf(place['assembly']), textOf(place['serial'])];
  return assembly === undefined || serial === undefined ? null : `${assembly}/${serial}`;
}

function fieldsOf(value: unknown): Fields {
  return typeof value === 'object' && value !== null ? { ...value } : {};
}

function textOf(value: unknown): string | undefined {
  return typeof value === 'string' ? value : undefined;
}
