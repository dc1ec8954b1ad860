import { Type } from '@sinclair/typebox';
import { HEATED_PURPOSES } from '../../domain/events/station-event.js';
import { COMMON, METHOD, REFDES, PADS } from './common-data-schema.js';
import { amount, celsius, count, line, name, offset, oneOf, record, seconds } from './field-schemas.js';
import { HEAT_SCHEMA, PROFILE_SCHEMA } from './heat-schema.js';

export const SITE_DRESSED = record({
  ...COMMON,
  refdes: REFDES,
  method: METHOD,
  solderAlloy: name('Alloy of the remnant or the bath'),
  passes: count('Passes over the site', 1),
  contactSeconds: seconds('Longest contact of one pad with molten solder'),
  solderC: Type.Optional(celsius('Temperature of the molten solder')),
  flowing: Type.Optional(Type.Boolean({ description: 'Whether the solder flowed past the pads' })),
  flux: Type.Optional(line('Flux')),
  remnantHeightUm: Type.Optional(offset('Height of the solder that is left, um', 1_000_000)),
  nozzleSpeedMmPerS: Type.Optional(amount('Speed of the nozzle over the site, mm/s', 100_000)),
  profile: Type.Optional(PROFILE_SCHEMA),
  heat: Type.Optional(HEAT_SCHEMA),
});

export const SITE_HEATED = record({
  ...COMMON,
  refdes: REFDES,
  purpose: oneOf(HEATED_PURPOSES, 'Why it was heated'),
  profile: Type.Optional(PROFILE_SCHEMA),
  heat: HEAT_SCHEMA,
});

export const SITE_CLEANED = record({ ...COMMON, refdes: REFDES, agent: line('What it was cleaned with') });

export const SITE_REPAIRED = record({
  ...COMMON,
  refdes: REFDES,
  procedure: line('Repair procedure'),
  pads: PADS,
});
