import type { Schemas } from '../api/client.js';
import { deviceInWords } from './site-words.js';

/** Something about a unit that can be put on hold, and how the API is told. */
export interface HeldChoice {
  readonly label: string;
  readonly body: Omit<Schemas['RaiseHoldBody'], 'note'>;
}

/** What of a unit can be put on hold: the board, each site, each device on it. */
export function heldChoices({ assembly, serial, sites }: Schemas['Unit']): readonly HeldChoice[] {
  return [
    { label: 'The whole board', body: { assembly, serial } },
    ...sites.map(({ refdes }) => ({ label: `Site ${refdes}`, body: { assembly, serial, refdes } })),
    ...sites.flatMap(({ refdes, device }) =>
      device === null ? [] : [{ label: `Device on ${refdes}: ${deviceInWords(device, refdes)}`, body: { device } }],
    ),
  ];
}
