import { book, ToldBook } from '../../../test/support/domain-book.js';
import { Draft, heat, onUnit, tc } from '../../../test/support/domain-events.js';
import { boardDesign, rulesOf, siteDesign } from '../../../test/support/domain-rules.js';

const board = onUnit();
const came = board.received();
const strange = onUnit('XYZ/0001');

/** The event is parked for this reason and leaves the world as it was. */
function expectParked(step: Draft, code: string, names: RegExp, before: readonly Draft[] = [came]): void {
  const told = book(before);
  const world = structuredClone(told.world);
  const { outcomes } = told.tell([step], rulesOf());
  expect(outcomes.at(-1)).toMatchObject({
    state: 'parked',
    reason: { code, detail: expect.stringMatching(names) as string, remedy: expect.stringMatching(/retry/) as string },
  });
  expect(told.world).toEqual(world);
}

describe('an event of an assembly that the setup does not have', () => {
  it.each([
    strange.received(),
    strange.baked(),
    strange.exposed(),
    strange.reflowed(),
    strange.removed('U1'),
    strange.dressed('U1'),
    strange.placed('U1', 'N1'),
    strange.heated('U1'),
    strange.cleaned('U1'),
    strange.repaired('U1'),
    strange.inspected('U1'),
    strange.shipped(),
    strange.scrapped(),
  ])('is parked and changes nothing: $type', (step) => {
    expectParked(step, 'unknown-assembly', /XYZ/, []);
  });
});

describe('an event that names a site which its assembly does not have', () => {
  it.each<[string, Draft]>([
    ['a removal', board.removed('U9')],
    ['a dressing', board.dressed('U9')],
    ['a placement', board.placed('U9', 'N1')],
    ['a touch-up', board.heated('U9')],
    ['a cleaning', board.cleaned('U9')],
    ['a repair', board.repaired('U9')],
    ['an inspection of a site', board.inspected('U9')],
    ['an inspection of a device', board.inspected('U9', { target: { kind: 'device', refdes: 'U9' } })],
    ['a receipt that declares a device', board.received({ devices: [{ refdes: 'U1' }, { refdes: 'U9' }] })],
    ['a receipt that declares a site', board.received({ sites: [{ refdes: 'U9', priorReworks: 1 }] })],
  ])('is parked and changes nothing: %s', (_, step) => {
    expectParked(step, 'unknown-site', /U9/);
  });

  it.each(['constructor', 'toString', 'hasOwnProperty'])('also where it is called %s', (refdes) => {
    expectParked(board.cleaned(refdes), 'unknown-site', new RegExp(refdes));
  });

  it('can be applied once the site is there; the unit has it from then on', () => {
    const sites = [...boardDesign().sites, siteDesign('U9')];
    const rules = rulesOf({ assembly: { BRD: boardDesign({ sites }) } });
    const told = new ToldBook().tell([came], rulesOf()).tell([board.removed('U9')], rules);
    expect(told.outcomes.at(-1)?.state).toBe('applied');
    expect(told.spent('BRD:0001:U9')).toBe(2);
  });
});

describe('an event whose thermocouple is said to be on a site that is not there', () => {
  it('is applied and warned about, since the step itself is clear', () => {
    const step = board.removed('U1', { heat: heat(tc('joint', 230, { refdes: 'U9' })) });
    const told = book([came, step]);
    expect(told.outcomes.at(-1)?.state).toBe('applied');
    expect(told.warnings()).toContain('thermocouple-unplaced BRD/0001');
  });
});
