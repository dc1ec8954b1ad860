import { Type } from '@sinclair/typebox';
import { THERMOCOUPLE_POSITIONS } from '../../domain/events/heat.js';
import { celsius, line, list, name, oneOf, record, seconds, slope, time } from './field-schemas.js';

export const PROFILE_SCHEMA = record(
  { name: name('Name of the profile'), revision: name('Revision of the profile') },
  { description: 'The thermal profile that was run' },
);

const THERMOCOUPLE_SCHEMA = record({
  id: line('Name of the channel', 64),
  refdes: Type.Optional(name('The site it was on; leave it out for the site of the step itself')),
  position: oneOf(THERMOCOUPLE_POSITIONS, 'Where it was fixed'),
  peakC: celsius('Highest temperature'),
  secondsAboveLiquidus: Type.Optional(seconds('Time above the liquidus')),
  liquidusC: Type.Optional(celsius('The liquidus that was counted from')),
  maxRiseCPerS: Type.Optional(slope('Steepest rise')),
  maxFallCPerS: Type.Optional(slope('Steepest fall, with or without its minus sign')),
  uncertaintyC: Type.Optional(celsius('Uncertainty of the peak, either way')),
});

export const HEAT_SCHEMA = record(
  {
    startedAt: time('Begin of the heat'),
    endedAt: time('End of the heat, not before its begin'),
    thermocouples: list(THERMOCOUPLE_SCHEMA, 64, 'What each thermocouple saw; empty where none was fixed'),
    trace: Type.Optional(line('Name of the trace file that the summary was read from')),
  },
  { description: 'The time-temperature exposure as the station summed it up' },
);
