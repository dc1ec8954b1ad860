import { dressingOutcomes, SiteWork } from './dressing-outcomes.js';

function dressed(minute: number, operator: string, refdes = 'U1'): SiteWork {
  const work = { kind: 'dressed', data: { refdes, method: 'braid', operator } } as const;
  return { subject: 'BRD/1', time: `2031-03-03T06:${String(minute).padStart(2, '0')}:00Z`, station: 'DRESS', work };
}

function inspected(minute: number, code?: 'lifted-pad' | 'residual-solder', refdes = 'U1'): SiteWork {
  const target = { kind: 'site', refdes } as const;
  const data = code === undefined ? { target } : { target, defects: [{ code }] };
  return { ...dressed(minute, ''), work: { kind: 'inspected', data } };
}

describe('outcomes of dressings', () => {
  it('puts damage down to the last dressing before it was found', () => {
    const rows = dressingOutcomes([dressed(1, 'ann'), inspected(2), dressed(3, 'ben'), inspected(4, 'lifted-pad')]);
    expect(rows.map(({ operator, damaged }) => [operator, damaged])).toEqual([
      ['ann', 0],
      ['ben', 1],
    ]);
  });

  it('goes by when things happened, in whatever order they are told', () => {
    const rows = dressingOutcomes([inspected(4, 'lifted-pad'), dressed(3, 'ben'), inspected(2), dressed(1, 'ann')]);
    expect(rows.map(({ operator, damaged }) => [operator, damaged])).toEqual([
      ['ann', 0],
      ['ben', 1],
    ]);
  });

  it('counts a dressing once, however often it was inspected, and not one that nobody inspected', () => {
    expect(dressingOutcomes([dressed(1, 'ann'), inspected(2), inspected(3), dressed(4, 'ben')])).toEqual([
      { operator: 'ann', method: 'braid', station: 'DRESS', sites: 1, damaged: 0 },
    ]);
  });

  it('takes remnants for no damage, and other sites for others', () => {
    const rows = dressingOutcomes([
      dressed(1, 'ann'),
      inspected(2, 'residual-solder'),
      inspected(3, 'lifted-pad', 'U2'),
    ]);
    expect(rows.map(({ damaged }) => damaged)).toEqual([0]);
  });
});
