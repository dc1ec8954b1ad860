import { deviceIn, events, received, Said, SHOP } from '../../support/small-shop.js';
import { Lane } from './rework-line.js';

/** A board that came in and is dry, with the device for U7 on the shelf: all that is missing is the clearance. */
export interface WaitingBoard {
  readonly serial: string;
  readonly device: string;
}

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

/** @param series goes into every serial number and id, so that no two series meet in one book */
export function waitingBoards(series: string, count: number): WaitingBoard[] {
  return Array.from({ length: count }, (_, n) => {
    const serial = `${series}-${String(n)}`;
    return { serial, device: `K-${serial}` };
  });
}

/** What was told of such boards, board by board: an hour ago, since the gate asks the clock how long they have been out. */
export function toldOf(boards: readonly WaitingBoard[]): Lane {
  const now = Date.now();
  const ago = (ms: number): string => new Date(now - ms).toISOString();
  return boards.flatMap(({ serial, device }) => {
    const { data, ...shelf } = deviceIn(device);
    const said: Said[] = [
      received({ devices: [{ refdes: 'U7', device: `${device}-OLD`, priorExcursions: 1 }] }),
      {
        type: 'heatbook.unit.baked.v1',
        data: { temperatureC: 125, startedAt: ago(DAY_MS + 2 * HOUR_MS), endedAt: ago(2 * HOUR_MS) },
      },
      { ...shelf, data: { ...data, packSealedAt: ago(30 * DAY_MS) } },
    ];
    return events(serial, said).map((event) => JSON.stringify({ ...event, time: ago(HOUR_MS) }));
  });
}

/** The body by which the whole replacement of the device on U7 is asked for. */
export function wishFor({ serial, device }: WaitingBoard): string {
  const profile = { name: SHOP.profile, revision: 'A' };
  const steps = [
    { type: 'heatbook.device.removed.v1', refdes: 'U7', fate: 'scrap', profile },
    { type: 'heatbook.site.dressed.v1', refdes: 'U7', method: 'vacuum' },
    { type: 'heatbook.device.placed.v1', refdes: 'U7', device, profile },
  ];
  return JSON.stringify({ assembly: SHOP.assembly, serial, operator: 'ann', steps });
}
