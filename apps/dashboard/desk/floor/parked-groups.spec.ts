import { parkedGroups } from './parked-groups.js';

const parked = (id: string, code: string, minute: number) => ({
  id,
  reason: { code },
  parkedAt: `2026-03-03T10:${String(minute).padStart(2, '0')}:00Z`,
});

it('Parked events are grouped by reason, the commonest first, the oldest of each first', () => {
  const events = [parked('a', 'unknown-site', 4), parked('b', 'unknown-part', 2), parked('c', 'unknown-part', 1)];
  expect(parkedGroups(events).map(({ code, events: same }) => [code, same.map(({ id }) => id)])).toEqual([
    ['unknown-part', ['c', 'b']],
    ['unknown-site', ['a']],
  ]);
  expect(parkedGroups([])).toEqual([]);
});
