import type { UnitFilter } from './unit-queries.js';

export const UNIT_STATES = ['expected', 'in-house', 'shipped', 'scrapped'] as const;

function isUnitState(state: string | null): state is (typeof UNIT_STATES)[number] {
  return UNIT_STATES.some((one) => one === state);
}

/** The filter in an address. What could be no name, or no state, is left out. */
export function readUnitFilter(params: URLSearchParams): UnitFilter {
  const text = (field: string, most: number) => {
    const value = params.get(field)?.trim() ?? '';
    return value === '' || value.length > most ? undefined : value;
  };
  const name = (field: string) => {
    const value = text(field, 64);
    return value !== undefined && /^[A-Za-z0-9._:-]+$/.test(value) ? value : undefined;
  };
  const [customer, assembly, serial, state] = [
    text('customer', 200),
    name('assembly'),
    name('serial'),
    params.get('state'),
  ];
  return {
    ...(customer !== undefined && { customer }),
    ...(assembly !== undefined && { assembly }),
    ...(serial !== undefined && { serial }),
    ...(isUnitState(state) && { state }),
  };
}

/** The filter as the address has it. */
export function writeUnitFilter(filter: UnitFilter): URLSearchParams {
  return new URLSearchParams({ ...filter });
}
