import { withFresh } from './desk-pages.js';
import { MOST_PICKED, stretched, taken, toggled, without } from './desk-selection.js';

const NONE: ReadonlyMap<string, string | null> = new Map();
const mark = (id: string, dueAt: string | null = null) => ({ id, dueAt });
const list = withFresh([], 0, { items: ['a', 'b', 'c', 'd'].map((id) => ({ id })), nextCursor: null }, false);

describe('What is picked on the desk', () => {
  it('takes one in and out again, with its due date', () => {
    const one = toggled(NONE, mark('a', '2026-03-01T00:00:00Z'));
    expect([...one]).toEqual([['a', '2026-03-01T00:00:00Z']]);
    expect(toggled(one, mark('a')).size).toBe(0);
  });

  it('stretches from one place to another, either way, and keeps what was picked', () => {
    expect([...stretched(NONE, list, 1, 2).keys()]).toEqual(['b', 'c']);
    expect([...stretched(taken(NONE, [mark('a')]), list, 9, 2).keys()]).toEqual(['a', 'c', 'd']);
  });

  it('has a bound', () => {
    const many = Array.from({ length: MOST_PICKED + 5 }, (_, n) => mark(String(n)));
    expect(taken(NONE, many).size).toBe(MOST_PICKED);
  });

  it('leaves out what is done with', () => {
    expect([...without(taken(NONE, [mark('a'), mark('b')]), ['a', 'z']).keys()]).toEqual(['b']);
  });
});
