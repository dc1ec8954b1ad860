import { changesBetween } from './hold-changes.js';
import { bareHold, causeWith, decidedBy } from './spec-support/bare-hold.js';

describe('What became of a hold between two looks', () => {
  const before = bareHold({ assignee: 'q-1', dueAt: null });
  const now = (changed: Partial<typeof before>) => changesBetween(before, { ...before, version: 'two', ...changed });

  it('is nothing where the version is the same', () => {
    expect(changesBetween(before, { ...before, ageHours: 7 })).toEqual([]);
  });

  it('names who decided, and what', () => {
    expect(now({ dispositions: [decidedBy('q-2', 'scrap')] })).toEqual(['q-2 decided “Scrap”: seen']);
  });

  it('names who has it now, or that nobody has', () => {
    expect(now({ assignee: 'q-2' })).toEqual(['q-2 has it now.']);
    expect(now({ assignee: null, dueAt: '2026-03-05T00:00:00Z' })).toEqual([
      'It was given back: nobody has it.',
      'Its due date changed.',
    ]);
  });

  it('repeats only comments that are new', () => {
    const comment = { by: 'o-1', at: '2026-03-03T10:00:00Z', text: 'the nozzle was worn' };
    const talked = { ...before, comments: [comment] };
    const again = { ...comment, by: 'q-2', text: 'changed it' };
    expect(changesBetween(talked, { ...talked, version: 'two', comments: [comment, again] })).toEqual([
      'q-2 commented: changed it',
    ]);
  });

  it('tells of releases, of causes that joined, and of those that are gone', () => {
    const release = {
      ...{ by: 'a-1', at: '2026-03-03T10:00:00Z', note: 'checked', signature: null },
      ...{ approved: true, withoutCause: false },
    };
    expect(now({ state: 'released', release })).toEqual(['a-1 released it: checked']);
    expect(now({ causes: [causeWith()], causeGone: true })).toEqual([
      'Another event joined its causes.',
      'What called for it is gone.',
    ]);
  });

  it('says something even where none of these is different', () => {
    expect(now({})).toHaveLength(1);
  });
});
