import { byKind, type FoundItem, isWhole, onlyPath, pathOf } from './found-words.js';

const unit = (assembly: string, serial: string): FoundItem => ({
  kind: 'unit',
  name: `${assembly}/${serial}`,
  assembly,
  serial,
});
const aboard: FoundItem = { kind: 'device', name: 'K-0103', device: 'K-0103', assembly: 'A-1', serial: '0103' };

describe('What was found', () => {
  it('is named as asked by its serial, by both its names however they are joined, or in capitals', () => {
    for (const asked of ['0103', 'A-1/0103', 'A-1 0103', ' a-1 / 0103 ']) {
      expect(isWhole(unit('A-1', '0103'), asked)).toBe(true);
    }
    expect(isWhole(unit('A-1', '0103'), '010')).toBe(false);
    expect(isWhole(aboard, 'devices/K-0103')).toBe(true);
  });

  it('is not a device because the board that it is on is named so', () => {
    expect(isWhole(aboard, '0103')).toBe(false);
  });

  it('leads on at once where one alone is named so, and not where somebody has to choose', () => {
    expect(onlyPath([unit('A-1', '0103'), unit('A-1', '01031'), aboard], '0103')).toBe('/units/A-1/0103');
    expect(onlyPath([unit('A-1', '0103'), unit('B-1', '0103')], '0103')).toBeUndefined();
    expect(onlyPath([unit('A-1', '01031')], '0103')).toBeUndefined();
    expect(onlyPath([], '0103')).toBeUndefined();
  });

  it('leads to pages of their own, where there are any', () => {
    expect(pathOf({ kind: 'hold', name: 'h1', assembly: 'A-1', serial: '0103' })).toBe('/holds/h1');
    expect(pathOf({ kind: 'assembly', name: 'A-1', assembly: 'A-1' })).toBe('/units?assembly=A-1');
    expect(pathOf({ kind: 'device', name: 'A:1:U1', device: 'A:1:U1' })).toBe('/devices/A%3A1%3AU1');
    expect(pathOf({ kind: 'profile', name: 'HG-UP' })).toBeUndefined();
  });

  it('is shown by kind', () => {
    const groups = byKind([{ kind: 'station', name: 'A-1' }, unit('A-1', '1'), unit('A-1', '2')]);
    expect(groups.map(({ title, items }) => [title, items.length])).toEqual([
      ['Units', 2],
      ['Stations', 1],
    ]);
  });
});
