import { Type } from '@sinclair/typebox';
import { DRESSING_METHODS, STORAGES } from '../../domain/events/station-event.js';
import { amount, celsius, count, humidityPct, line, list, name, oneOf, record, time } from './field-schemas.js';

/** What every event may say besides its own facts. */
export const COMMON = {
  operator: Type.Optional(name('Who did it')),
  clearance: Type.Optional(name('The clearance it was done under')),
  note: Type.Optional(Type.String({ maxLength: 2000, description: 'Anything worth telling' })),
  lots: Type.Optional(
    record(
      {
        flux: Type.Optional(line('Lot of the flux')),
        solder: Type.Optional(line('Lot of the solder')),
        paste: Type.Optional(line('Lot of the solder paste')),
        balls: Type.Optional(line('Lot of the solder balls')),
      },
      { description: 'Lots of what was used up' },
    ),
  ),
  attachments: Type.Optional(list(line('Name of an attachment'), 32, 'Pictures and files that belong to it')),
};

export const METHOD = oneOf(DRESSING_METHODS, 'How the solder was taken off');
export const REFDES = name('Reference designator of the site');
export const PADS = list(name('Pad'), 10_000, 'Pads by name');
export const PRIOR_EXCURSIONS = Type.Optional(
  count('Excursions it had seen before it came in; replaces what would be assumed'),
);

/** Data of events that say no more than that they happened. */
export const NOTHING_MORE = record({ ...COMMON });

export const BAKED = record({
  ...COMMON,
  temperatureC: celsius('Temperature of the oven'),
  relativeHumidityPct: Type.Optional(humidityPct()),
  startedAt: time('Begin of the bake'),
  endedAt: time('End of the bake, not before its begin'),
  interruptedMinutes: Type.Optional(amount('How long it was interrupted, min', 1_000_000)),
});

export const EXPOSURE = record({
  ...COMMON,
  ambientC: Type.Optional(celsius('Temperature of the air')),
  relativeHumidityPct: Type.Optional(humidityPct()),
  storage: oneOf(STORAGES, 'Where it lies from now on'),
});
