import { Type } from '@sinclair/typebox';
import { COMMON, METHOD, REFDES, PRIOR_EXCURSIONS } from './common-data-schema.js';
import { amount, celsius, line, name, oneOf, record, seconds, time } from './field-schemas.js';
import { HEAT_SCHEMA, PROFILE_SCHEMA } from './heat-schema.js';

export const DEVICE_RECEIVED = record({
  ...COMMON,
  part: name('Part number'),
  lot: Type.Optional(line('Lot of the device')),
  dateCode: Type.Optional(line('Date code on the package')),
  owner: Type.Optional(line('Whose it is')),
  priorExcursions: PRIOR_EXCURSIONS,
  packSealedAt: Type.Optional(time('When its dry pack was sealed')),
});

export const DEVICE_REMOVED = record({
  ...COMMON,
  refdes: REFDES,
  device: Type.Optional(name('The device that was taken off')),
  fate: oneOf(['scrap', 'keep'], 'What becomes of the device'),
  profile: PROFILE_SCHEMA,
  heat: HEAT_SCHEMA,
});

export const DEVICE_DEBALLED = record({
  ...COMMON,
  method: METHOD,
  solderAlloy: Type.Optional(name('Alloy of the bath, braid or balls')),
  contactSeconds: Type.Optional(seconds('Longest contact of one pad with molten solder')),
  solderC: Type.Optional(celsius('Temperature of the molten solder')),
  heat: Type.Optional(HEAT_SCHEMA),
});

export const DEVICE_REBALLED = record({
  ...COMMON,
  ballAlloy: name('Alloy of the new balls'),
  ballDiameterMm: amount('Diameter of the new balls, mm', 100),
  heat: Type.Optional(HEAT_SCHEMA),
});

export const DEVICE_PLACED = record({
  ...COMMON,
  refdes: REFDES,
  device: name('The device that was placed'),
  part: Type.Optional(name('Its part number')),
  attach: oneOf(['flux', 'paste'], 'What it was attached with'),
  pasteAlloy: Type.Optional(name('Alloy of the paste')),
  pasteVolumeMm3: Type.Optional(amount('Paste on one pad, mm3', 100_000)),
  profile: PROFILE_SCHEMA,
  heat: HEAT_SCHEMA,
});
