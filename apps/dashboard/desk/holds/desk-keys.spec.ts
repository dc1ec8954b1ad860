import { deskAct } from './desk-keys.js';

const press = (key: string, held: Partial<Record<'shiftKey' | 'ctrlKey' | 'metaKey' | 'altKey', boolean>> = {}) =>
  deskAct({ key, shiftKey: false, ctrlKey: false, metaKey: false, altKey: false, ...held });

describe('Keys in the list of holds', () => {
  it('move by letters and arrows alike, and select on the way with Shift', () => {
    expect(press('j')).toEqual({ act: 'move', by: 1, stretch: false });
    expect(press('ArrowUp', { shiftKey: true })).toEqual({ act: 'move', by: -1, stretch: true });
    expect(press('J', { shiftKey: true })).toEqual({ act: 'move', by: 1, stretch: true });
    expect(press('?', { shiftKey: true })).toEqual({ act: 'help' });
  });

  it('leave to the browser what is its own', () => {
    for (const key of ['a', 'r', 'k', 'ArrowDown']) expect(press(key, { ctrlKey: true })).toBeUndefined();
    expect(press('x', { metaKey: true })).toBeUndefined();
    expect(press('Enter')).toBeUndefined();
    expect(press('Tab')).toBeUndefined();
  });
});
