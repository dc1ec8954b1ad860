import type { ShownHouse } from './shown-house.js';

/** A page as it is shown in the documents. */
export interface ShownPage {
  /** Of the picture: docs/desk/{name}-{scheme}-{size}.webp. */
  readonly name: string;
  /** Address inside the desk. */
  readonly path: string;
  /** Who looks at it; nobody has signed in where it is null. */
  readonly who: 'quality' | 'customer' | null;
  /** A text that is there once the page shows what it is for. */
  readonly shows: string;
}

/** The board of the demo whose device saw one excursion too many, and the one whose heat has a trace. */
const OVER = '/units/ZIB-PANEL-1/0103';
const TRACED = '/units/ZIB-PANEL-1/0120';

/** Pages to be shown, with the holds that the demo's book has. */
export async function shownPages(house: ShownHouse): Promise<readonly ShownPage[]> {
  const [over, mismatch] = await Promise.all([holdOf(house, 'device-excursions'), holdOf(house, 'summary-mismatch')]);
  const quality = 'quality' as const;
  return [
    { name: 'sign-in', path: '/', who: null, shows: 'Password' },
    { name: 'holds', path: '/', who: quality, shows: 'Shipped with open points' },
    { name: 'hold', path: `/holds/${over}`, who: quality, shows: 'K-0103' },
    { name: 'hold-curve', path: `/holds/${mismatch}`, who: quality, shows: 'removal-sac305' },
    { name: 'unit', path: OVER, who: quality, shows: 'Where the sites are' },
    { name: 'unit-route', path: `${OVER}?part=route`, who: quality, shows: 'Received' },
    { name: 'unit-heats', path: `${TRACED}?part=heats`, who: quality, shows: 'Close to the line' },
    { name: 'unit-ledger', path: `${OVER}?part=ledger`, who: quality, shows: 'INSP-1' },
    { name: 'unit-moisture', path: `${OVER}?part=moisture`, who: quality, shows: 'K-0103' },
    { name: 'device', path: '/devices/K-0103', who: quality, shows: 'K-0103' },
    { name: 'plan', path: '/plan?assembly=ZIB-PANEL-1&serial=0120&refdes=U1', who: quality, shows: 'Copper coupon' },
    {
      name: 'containment',
      path: '/containments?station=HOTGAS-2&from=2026-03-01T00:00:00Z&to=2026-04-01T00:00:00Z',
      who: quality,
      shows: 'See what it touched',
    },
    { name: 'stations', path: '/stations', who: quality, shows: 'HOTGAS-2' },
    { name: 'station', path: '/stations/HOTGAS-2', who: quality, shows: 'HOTGAS-2' },
    { name: 'people', path: '/people', who: quality, shows: 'op-103' },
    { name: 'limits', path: '/limits', who: quality, shows: 'Excursions of the device' },
    { name: 'limit', path: '/limits/device-excursions', who: quality, shows: 'Revisions' },
    { name: 'search', path: '/search?q=010', who: quality, shows: '0103' },
    { name: 'customer-holds', path: '/', who: 'customer', shows: 'Shipped with open points' },
  ];
}

async function holdOf(house: ShownHouse, reason: string): Promise<string> {
  const { items } = (await house.ask('GET', `/v1/holds?state=open&reason=${reason}`)) as { items: { id: string }[] };
  const [hold] = items;
  if (hold === undefined) throw new Error(`The demo has no open hold for ${reason}.`);
  return hold.id;
}
