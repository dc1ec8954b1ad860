import { Type } from '@sinclair/typebox';
import { COMMON, REFDES, PRIOR_EXCURSIONS } from './common-data-schema.js';
import { count, line, list, name, oneOf, record } from './field-schemas.js';
import { HEAT_SCHEMA, PROFILE_SCHEMA } from './heat-schema.js';

export const UNIT_RECEIVED = record({
  ...COMMON,
  workOrder: Type.Optional(line('Work order')),
  complaint: Type.Optional(Type.String({ maxLength: 2000, description: 'What the customer says is wrong' })),
  priorReflows: Type.Optional(count('Whole-board reflows before it came in; replaces what would be assumed')),
  devices: Type.Optional(
    list(
      record({
        refdes: REFDES,
        device: Type.Optional(name('Its name, where it has one')),
        priorExcursions: PRIOR_EXCURSIONS,
      }),
      500,
      'Devices that came on it',
    ),
  ),
  sites: Type.Optional(
    list(
      record({ refdes: REFDES, priorReworks: Type.Optional(count('Reworks of the site before it came in')) }),
      500,
      'Sites with a history',
    ),
  ),
});

export const UNIT_REFLOWED = record({
  ...COMMON,
  side: Type.Optional(oneOf(['top', 'bottom'], 'The side that was soldered')),
  profile: PROFILE_SCHEMA,
  heat: HEAT_SCHEMA,
});
