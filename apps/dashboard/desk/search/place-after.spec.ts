import { placeAfter } from './place-after.js';

it('Arrows go through a list and stop at its ends; Home and End lead there', () => {
  expect(placeAfter('ArrowDown', -1, 3)).toBe(0);
  expect(placeAfter('ArrowDown', 2, 3)).toBe(2);
  expect(placeAfter('ArrowUp', 0, 3)).toBe(0);
  expect(placeAfter('ArrowUp', 2, 3)).toBe(1);
  expect([placeAfter('Home', 2, 3), placeAfter('End', 0, 3)]).toEqual([0, 2]);
  expect([placeAfter('a', 1, 3), placeAfter('End', -1, 0)]).toEqual([undefined, undefined]);
});
