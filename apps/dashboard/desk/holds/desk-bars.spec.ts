import { barsOf } from './desk-bars.js';

const summary = {
  ...{
    open: 6,
    oldestRaisedAt: null,
    overdue: 0,
    byAssignee: {},
    byCustomer: { Zib: 1, Ack: 1, Mir: 4 },
    byStation: {},
  },
  byReason: { 'by-hand': 1, 'floor-life': 5 },
  byStage: { new: 6, assigned: 0, decided: 0 },
  byAge: { underOneDay: 0, oneToSevenDays: 2, overSevenDays: 4 },
};
const told = (bars: ReturnType<typeof barsOf>) => bars.map(({ label, count }) => `${label} ${count}`);

describe('The small charts of the desk', () => {
  it('have the most first, and of equal ones those first that begin so', () => {
    expect(told(barsOf('reason', summary))).toEqual(['Floor life ran out 5', 'Raised by hand 1']);
    expect(told(barsOf('customer', summary))).toEqual(['Mir 4', 'Ack 1', 'Zib 1']);
    expect(barsOf('station', summary)).toEqual([]);
  });

  it('keep age and stage in their own order, with what there is none of', () => {
    expect(told(barsOf('age', summary))).toEqual(['Under a day 0', '1 to 7 days 2', 'Over 7 days 4']);
    expect(told(barsOf('stage', summary))).toEqual(['New 6', 'Assigned 0', 'Decided, to be released 0']);
  });
});
