import { Type } from '@sinclair/typebox';
import { DEFECT_CODES, TECHNIQUES } from '../../domain/events/station-event.js';
import { COMMON, REFDES, PADS } from './common-data-schema.js';
import { list, name, offset, oneOf, record, time, weightPct } from './field-schemas.js';

export const INSPECTION_RECORDED = record({
  ...COMMON,
  target: record(
    {
      kind: oneOf(['site', 'device', 'unit'], 'What was looked at'),
      refdes: Type.Optional(REFDES),
      device: Type.Optional(name('The device')),
    },
    { description: 'What was inspected' },
  ),
  technique: oneOf(TECHNIQUES, 'How it was looked at'),
  result: oneOf(['pass', 'fail'], 'What came of it'),
  defects: Type.Optional(
    list(record({ code: oneOf(DEFECT_CODES, 'Kind of defect'), pads: Type.Optional(PADS) }), 1000, 'What was found'),
  ),
  heightsUm: Type.Optional(
    list(
      record({
        xMm: offset('Place across, mm', 10_000),
        yMm: offset('Place along, mm', 10_000),
        zUm: offset('Height, um', 1_000_000),
      }),
      20_000,
      'Height map',
    ),
  ),
  voids: Type.Optional(
    list(
      record({
        joint: name('Joint'),
        fraction: Type.Number({ minimum: 0, maximum: 1, description: 'Void area over joint area, 0 to 1' }),
      }),
      20_000,
      'Voids by joint',
    ),
  ),
  leadPct: Type.Optional(weightPct('Measured lead')),
});

export const BATH_ANALYSED = record({
  ...COMMON,
  solderAlloy: name('Alloy that the bath should be'),
  leadPct: weightPct('Lead'),
  copperPct: weightPct('Copper'),
  sampledAt: time('When the sample was taken'),
});
