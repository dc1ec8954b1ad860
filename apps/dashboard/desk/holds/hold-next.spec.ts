import { nextStep, refusalsOf, releasers, whyNot } from './hold-next.js';
import { bareHold, decidedBy } from './spec-support/bare-hold.js';

describe('Who acts next', () => {
  const people = [
    { name: 'q-1', roles: ['quality'] },
    { name: 'q-2', roles: ['quality'] },
    { name: 'a-1', roles: ['approver'] },
    { name: 'o-1', roles: ['operator'] },
  ];

  it('on a new hold: quality, and whoever looks if they may', () => {
    const may = bareHold({ actions: [{ action: 'dispose', allowed: true, why: null }] });
    expect(nextStep(may)).toEqual({
      who: 'Quality or an approver',
      does: 'decides what becomes of it',
      mine: true,
    });
    expect(nextStep(bareHold()).mine).toBe(false);
  });

  it('once decided: somebody else than who decided and than who raised it', () => {
    const hold = bareHold({ raisedBy: 'q-2', dispositions: [decidedBy('q-1', 'rework')] });
    expect(nextStep(hold).who).toBe('Quality or an approver other than q-1 and q-2');
    expect(releasers(hold, people).map(({ name }) => name)).toEqual(['a-1']);
  });

  it('once quality decided use as is: an approver', () => {
    const hold = bareHold({ dispositions: [decidedBy('q-1', 'use-as-is')] });
    expect(nextStep(hold).who).toBe('An approver other than q-1');
    expect(releasers(hold, people).map(({ name }) => name)).toEqual(['a-1']);
  });

  it('once an approver decided use as is: anybody of quality too', () => {
    const hold = bareHold({ dispositions: [{ ...decidedBy('a-1', 'use-as-is'), approved: true }] });
    expect(releasers(hold, people).map(({ name }) => name)).toEqual(['q-1', 'q-2']);
  });

  it('on a parked event: whoever enters what it refers to', () => {
    const hold = bareHold({ reason: 'event-parked' });
    expect(nextStep(hold).who).toBe('Whoever keeps the setup');
    expect(nextStep({ ...hold, causeGone: true }).who).toBe('Quality or an approver');
  });

  it('on a closed one: nobody', () => {
    expect(nextStep(bareHold({ state: 'withdrawn' })).who).toBe('Nobody');
  });
});

describe('Why something cannot be done', () => {
  const refused = (action: 'dispose' | 'release', why: string) => ({ action, allowed: false, why });

  it('is said without the API where nothing is decided yet', () => {
    const hold = bareHold({ actions: [refused('release', 'POST a disposition first.')] });
    expect(whyNot(hold, 'release')).toBe('Nothing is decided yet. Once somebody has, another person releases it.');
  });

  it('is said as the API says it where that names people', () => {
    const why = 'q-1 signed the disposition in force, so somebody else has to release it.';
    const hold = bareHold({ dispositions: [decidedBy('q-1', 'rework')], actions: [refused('release', why)] });
    expect(whyNot(hold, 'release')).toBe(why);
  });

  it('is said once for what shares it, and not of what may be done', () => {
    const actions = [
      refused('dispose', 'a'),
      refused('release', 'b'),
      { action: 'assign', allowed: true, why: null } as const,
    ];
    const refusals = refusalsOf(bareHold({ reason: 'event-parked', actions }));
    expect([...refusals.values()]).toEqual([['dispose', 'release']]);
  });
});
