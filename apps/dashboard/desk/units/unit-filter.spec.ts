import { readUnitFilter, writeUnitFilter } from './unit-filter.js';

describe('The filter of the list of units', () => {
  it('is kept by the address', () => {
    const filter = { customer: 'Thimble & Co', assembly: 'A-1', serial: '0103', state: 'shipped' } as const;
    expect(readUnitFilter(writeUnitFilter(filter))).toEqual(filter);
    expect(writeUnitFilter({}).toString()).toBe('');
  });

  it('leaves out what could not be', () => {
    expect(readUnitFilter(new URLSearchParams('serial=a b&state=lent&assembly=%20&customer='))).toEqual({});
    expect(readUnitFilter(new URLSearchParams({ serial: 'x'.repeat(65) }))).toEqual({});
  });
});
