import { skillCell, skillsOf } from './qualification-grid.js';

const NOW = Date.parse('2026-03-03T12:00:00Z');
const operator = (...qualifications: readonly (readonly [string, string])[]) => ({
  name: 'op-1',
  qualifications: qualifications.map(([skill, validUntil]) => ({ skill, validUntil })),
});

describe('How an operator stands in a skill', () => {
  const stands = (validUntil: string) => skillCell(operator(['braid', validUntil]), 'braid', NOW)?.standing;

  it('is by the date on record: valid, soon to run out, run out', () => {
    expect(stands('2026-06-01T00:00:00Z')).toBe('valid');
    expect(stands('2026-03-17T12:00:00Z')).toBe('soon');
    expect(stands('2026-03-03T11:59:59Z')).toBe('ran-out');
  });

  it('goes by the latest date where there are two, whatever their order', () => {
    const twice = operator(['braid', '2026-06-01T00:00:00+02:00'], ['braid', '2026-01-01T00:00:00Z']);
    expect(skillCell(twice, 'braid', NOW)?.standing).toBe('valid');
    expect(skillCell(twice, 'vacuum', NOW)).toBeUndefined();
  });
});

it('Skills stand in the order of the work', () => {
  const day = '2026-06-01T00:00:00Z';
  expect(skillsOf([operator(['inspection', day], ['braid', day]), operator(['removal', day], ['braid', day])])).toEqual(
    ['removal', 'braid', 'inspection'],
  );
});
