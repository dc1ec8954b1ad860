import { placedThermocouple } from './thermocouple-name.js';

describe('A thermocouple', () => {
  it.each([
    ['TC1', undefined, 'TC1 joint'],
    ['Joint centre', undefined, 'Joint centre'],
    ['TC2', 'U2', 'TC2 joint of U2'],
  ])('%s on %s is called %s', (id, refdes, name) => {
    expect(placedThermocouple({ id, position: 'joint', ...(refdes !== undefined && { refdes }) })).toBe(name);
  });
});
