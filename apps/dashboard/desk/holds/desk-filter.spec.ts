import { isNarrowed, narrowed, queryOf, readFilter, writeFilter } from './desk-filter.js';

const read = (address: string) => readFilter(new URLSearchParams(address));

describe('The filter of the desk', () => {
  it('is open holds, gravest first, where the address says nothing', () => {
    expect(read('')).toEqual({ state: 'open', order: 'graveness' });
    expect(writeFilter(read('')).toString()).toBe('');
    expect(isNarrowed(read('order=age&state=released'))).toBe(false);
  });

  it('comes back from the address that it wrote', () => {
    const address = 'state=released&stage=decided&age=overSevenDays&customer=A+%26+B&device=X%3A1%3AU2&order=age';
    expect(writeFilter(read(address)).toString()).toBe(address);
    expect(isNarrowed(read(address))).toBe(true);
  });

  it('leaves out what cannot be', () => {
    expect(read('stage=closed&age=old&overdue=yes&subjectKind=panel&state=shut&order=best&serial=+')).toEqual(read(''));
    expect(read(`serial=${'9'.repeat(201)}`)).toEqual(read(''));
  });

  it('narrows down by one thing more, another, or no longer', () => {
    const voids = narrowed(read(''), 'reason', 'void-fraction-max');
    expect(voids.reason).toBe('void-fraction-max');
    expect(narrowed(voids, 'reason', 'by-hand').reason).toBe('by-hand');
    expect(narrowed(voids, 'reason', 'void-fraction-max')).toEqual(read(''));
    expect(narrowed(voids, 'reason', undefined)).toEqual(read(''));
  });

  it('asks for my holds by my name, and for ages by moments', () => {
    const now = Date.parse('2026-03-10T12:00:00.000Z');
    expect(queryOf(read('assignee=me&overdue=true'), 'q-7', now)).toEqual({
      ...{ state: 'open', order: 'graveness', assignee: 'q-7', overdue: 'true' },
    });
    expect(queryOf(read('assignee=q-8'), 'q-7', now).assignee).toBe('q-8');
    const [day, week] = ['2026-03-09T12:00:00.001Z', '2026-03-03T12:00:00.001Z'];
    expect(queryOf(read('age=underOneDay'), 'q-7', now)).toMatchObject({ raisedFrom: day });
    expect(queryOf(read('age=oneToSevenDays'), 'q-7', now)).toMatchObject({ raisedFrom: week, raisedTo: day });
    const oldest = queryOf(read('age=overSevenDays'), 'q-7', now);
    expect(oldest).toMatchObject({ raisedTo: week });
    expect(oldest).not.toHaveProperty('age');
    expect(oldest).not.toHaveProperty('raisedFrom');
  });
});
