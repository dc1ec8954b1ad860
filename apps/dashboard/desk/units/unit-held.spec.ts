import type { Schemas } from '../api/client.js';
import { heldChoices } from './unit-held.js';

it('The board, each site and each device on it can be put on hold', () => {
  const sites = [
    { refdes: 'U1', device: 'D-1' },
    { refdes: 'U2', device: null },
  ];
  expect(heldChoices({ assembly: 'A', serial: '1', sites } as Schemas['Unit'])).toEqual([
    { label: 'The whole board', body: { assembly: 'A', serial: '1' } },
    { label: 'Site U1', body: { assembly: 'A', serial: '1', refdes: 'U1' } },
    { label: 'Site U2', body: { assembly: 'A', serial: '1', refdes: 'U2' } },
    { label: 'Device on U1: D-1', body: { device: 'D-1' } },
  ]);
});
