import { ToldBook } from '../../../test/support/domain-book.js';
import { clearance, cleared, worldWith } from '../../../test/support/domain-clearances.js';
import { cool, Draft, heat, mute, ofDevice, onUnit, said } from '../../../test/support/domain-events.js';
import { limitRule, rulesOf } from '../../../test/support/domain-rules.js';
import { Clearance, PlannedStep } from '../clearance/clearance.js';

const rules = rulesOf({ limit: { 'clearance-required': limitRule('clearance-required', {}) } });
const board = onUnit();
const received = board.received({ sites: [{ refdes: 'U1', priorReworks: 0 }] });

const REMOVAL: PlannedStep = { type: 'heatbook.device.removed.v1', refdes: 'U1' };
const DRESSING: PlannedStep = { type: 'heatbook.site.dressed.v1', refdes: 'U1', method: 'braid' };

/** What the book says against the steps, in words, and which steps of the clearance they used. */
function judged(asked: Clearance, ...drafts: readonly Draft[]): { faults: string[]; used: (string | null)[] } {
  const told = new ToldBook(worldWith(asked)).tell([received, ...drafts], rules);
  const faults = told.effects().flatMap((effect) => {
    return effect.kind === 'warned' && effect.code === 'clearance-required' ? [effect.detail] : [];
  });
  return { faults, used: asked.steps.map(({ use }) => use?.id ?? null) };
}

describe('a step that names its clearance', () => {
  it('uses the planned step, once, and is warned about no more', () => {
    const asked = clearance([REMOVAL, DRESSING]);
    expect(judged(asked, cleared(board.removed('U1')), cleared(board.dressed('U1')))).toEqual({
      faults: [],
      used: ['e0001', 'e0002'],
    });
  });

  it('is told of in its effects, so that a reader of the ledger sees which step it was', () => {
    const told = new ToldBook(worldWith(clearance([DRESSING, REMOVAL]))).tell(
      [received, cleared(board.removed('U1'))],
      rules,
    );
    expect(told.effects(1)).toContainEqual({
      kind: 'clearance-used',
      clearance: 'C1',
      step: 1,
      event: { source: '/stations/HOT', id: 'e0001' },
    });
  });

  it('may be of the device that the plan takes off, while it is off the board', () => {
    const asked = clearance([{ type: 'heatbook.device.reballed.v1', device: 'D1' }]);
    expect(judged(asked, cleared(ofDevice('D1').reballed()))).toMatchObject({ faults: [], used: ['e0001'] });
  });

  it('is found under the name that its device was given meanwhile', () => {
    const asked = clearance([REMOVAL, { type: 'heatbook.device.reballed.v1' }]);
    const [, reballing] = asked.steps;
    if (reballing !== undefined) reballing.device = 'BRD:0001:U1';
    const removed = cleared(board.removed('U1', { fate: 'keep', device: 'K1' }));
    expect(judged(asked, removed, cleared(ofDevice('K1').reballed()))).toEqual({
      faults: [],
      used: ['e0001', 'e0002'],
    });
  });

  it('may begin in the second in which it was cleared, where its station writes whole seconds', () => {
    const asked = clearance([DRESSING], { grantedAt: '2031-03-03T06:01:00.400Z' });
    expect(judged(asked, cleared(board.dressed('U1')))).toMatchObject({ faults: [] });
    const finer = clearance([DRESSING], { grantedAt: '2031-03-03T06:01:00.400Z' });
    const early = said(cleared(board.dressed('U1')), { time: '2031-03-03T06:01:00.399Z' });
    expect(judged(finer, early).faults).toHaveLength(1);
  });
});

describe('a step that heats or spends is warned about', () => {
  const removed = cleared(board.removed('U1'));

  it.each<[string, Clearance, readonly Draft[], RegExp, boolean]>([
    ['where it names no clearance', clearance([REMOVAL]), [board.removed('U1')], /it names none/, false],
    ['where it names one that nobody granted', clearance([]), [cleared(removed, 'C9')], /no clearance C9/, false],
    [
      'where it is for another unit',
      clearance([REMOVAL], { subject: 'BRD/0002' }),
      [removed],
      /is for BRD\/0002/,
      false,
    ],
    ['where it has no such step', clearance([DRESSING]), [removed], /has no such step\./, false],
    ['at another site', clearance([{ ...REMOVAL, refdes: 'U2' }]), [removed], /has no such step\./, false],
    ['on another device', clearance([{ ...REMOVAL, device: 'X1' }]), [removed], /has no such step\./, false],
    [
      'where it began before it was cleared',
      clearance([REMOVAL], { grantedAt: '2031-03-03T05:51:00Z' }),
      [removed],
      /before clearance C1 was granted/,
      false,
    ],
    [
      'where the clearance had run out',
      clearance([REMOVAL], { expiresAt: '2031-03-03T05:50:00Z' }),
      [removed],
      /after clearance C1 ran out/,
      false,
    ],
    [
      'where the clearance had been given back',
      clearance([REMOVAL], { returnedAt: '2031-03-03T05:49:00Z' }),
      [removed],
      /after clearance C1 was given back/,
      false,
    ],
    [
      'where it was done by another method, though it uses the step',
      clearance([DRESSING]),
      [cleared(board.dressed('U1', { method: 'fountain' }))],
      /for braid, not for fountain/,
      true,
    ],
    [
      'where it was done with another profile, though it uses the step',
      clearance([{ ...REMOVAL, profile: cool }]),
      [cleared(board.removed('U1', { profile: mute }))],
      /for profile cool revision 1, not for mute revision 1/,
      true,
    ],
    [
      'where the device was to go to scrap and is kept, though it uses the step',
      clearance([{ ...REMOVAL, fate: 'scrap' }]),
      [cleared(board.removed('U1', { fate: 'keep' }))],
      /goes to scrap/,
      true,
    ],
  ])('%s', (_, asked, drafts, words, uses) => {
    const { faults, used } = judged(asked, ...drafts);
    expect(faults).toEqual([expect.stringMatching(words)]);
    expect(used.some((id) => id !== null)).toBe(uses);
  });

  it('the second time that it names a step which was used', () => {
    const asked = clearance([DRESSING]);
    const { faults, used } = judged(asked, cleared(board.dressed('U1')), cleared(board.dressed('U1')));
    expect(faults).toEqual([expect.stringMatching(/no such step left/)]);
    expect(used).toEqual(['e0001']);
  });

  it('and held where the house says so, with what it did counted all the same', () => {
    const strict = rulesOf({ limit: { 'clearance-required': limitRule('clearance-required', { action: 'hold' }) } });
    const told = new ToldBook().tell([received, board.removed('U1', { heat: heat() })], strict);
    expect(told.holds()).toEqual(['clearance-required BRD/0001']);
    expect(told.site('U1').reworks.counted).toHaveLength(1);
  });
});

it('asks no clearance of a bake, a cleaning, an inspection or a receipt', () => {
  const quiet = [board.baked(), board.cleaned('U1'), board.inspected('U1'), ofDevice('N1').received(), board.shipped()];
  expect(judged(clearance([]), ...quiet).faults).toEqual([]);
});
