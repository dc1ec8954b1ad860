import type { ThermocoupleSummary } from '../../../../libs/domain/events/heat.js';

/** A thermocouple with where it was, unless its name says so already: `TC1 joint`, `Joint centre`, `TC2 body of U2`. */
export function placedThermocouple({
  id,
  position,
  refdes,
}: Pick<ThermocoupleSummary, 'id' | 'position' | 'refdes'>): string {
  const where = id.toLowerCase().includes(position) ? id : `${id} ${position}`;
  return refdes === undefined ? where : `${where} of ${refdes}`;
}
