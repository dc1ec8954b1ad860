import { fieldChanges } from './field-changes.js';

it('tells nothing of what is the same, however its members and named items are ordered', () => {
  const sites = [
    { refdes: 'U1', pads: 4 },
    { refdes: 'U2', pads: 9 },
  ];
  expect(fieldChanges({ a: 1, sites }, { sites: sites.toReversed(), a: 1 })).toEqual([]);
  expect(fieldChanges({ allowed: ['braid'] }, { allowed: ['braid'] })).toEqual([]);
});

it('names fields by the names of the items that they are in', () => {
  const from = { description: 'old', sites: [{ refdes: 'U1', pads: 4, neighbours: [{ refdes: 'U2', gapMm: 1 }] }] };
  const to = { leadFree: true, sites: [{ refdes: 'U1', pads: 5, neighbours: [{ refdes: 'U2', gapMm: 2 }] }] };
  expect(fieldChanges(from, to)).toEqual([
    { field: 'description', from: 'old' },
    { field: 'sites[U1].pads', from: 4, to: 5 },
    { field: 'sites[U1].neighbours[U2].gapMm', from: 1, to: 2 },
    { field: 'leadFree', to: true },
  ]);
});

it('tells of items that come and go', () => {
  const u1 = { refdes: 'U1' };
  const u2 = { refdes: 'U2' };
  expect(fieldChanges({ sites: [u1] }, { sites: [u2] })).toEqual([
    { field: 'sites[U1]', from: u1 },
    { field: 'sites[U2]', to: u2 },
  ]);
  expect(fieldChanges({ sites: [] }, { sites: [u2] })).toEqual([{ field: 'sites[U2]', to: u2 }]);
});

it('goes by place, or takes the whole list, where items have no name of their own', () => {
  const twice = [
    { skill: 'braid', validUntil: 'x' },
    { skill: 'braid', validUntil: 'y' },
  ];
  expect(fieldChanges({ q: twice }, { q: [twice[0], { skill: 'braid', validUntil: 'z' }] })).toEqual([
    { field: 'q[1].validUntil', from: 'y', to: 'z' },
  ]);
  expect(fieldChanges({ allowed: ['braid'] }, { allowed: ['braid', 'coupon'] })).toEqual([
    { field: 'allowed', from: ['braid'], to: ['braid', 'coupon'] },
  ]);
  expect(fieldChanges({ allowed: 3 }, { allowed: [{ pitchMm: 1, max: 2 }] })).toEqual([
    { field: 'allowed', from: 3, to: [{ pitchMm: 1, max: 2 }] },
  ]);
});
