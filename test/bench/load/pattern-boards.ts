import { signInPerson } from '../../support/signed-in-person.js';
import { events, received, Said, shipped, SHOP } from '../../support/small-shop.js';
import { HeatbookProcesses } from '../services/heatbook-processes.js';
import { lineJob } from './line-job.js';
import { movedDays } from './line-template.js';
import { inBatches, Lane } from './rework-line.js';
import { sendLanes } from './send-lanes.js';

/** Part of every serial number and id that is told here, and of nothing else in the book. */
export const MARK = 'PATTERN';
/** Replacements well done. */
export const PLAIN_BOARDS = 98;
/** Serial of a board that stands at the desk, and of one that did. */
export const OPEN_BOARD = `${MARK}-OPEN`;
export const RELEASED_BOARD = `${MARK}-RELEASED`;

const BATCH = 100;
/** After the receipt and the bake the gate is asked, for one board in so many. */
const STEPS_BEFORE_GATE = 2;
const ASKED_EVERY = 10;
const DAY_MS = 86_400_000;
/** The day on which the events of the shop happen, days since 1970. */
const SHOP_DAY = Date.UTC(2026, 3, 1) / DAY_MS;

interface Board {
  readonly serial: string;
  readonly device: string;
  readonly said: readonly Said[];
}

/**
 * Tells the product of a hundred boards that were worked on side by side yesterday, and has people close the holds of one of
 * them. Everything in the book with MARK in its name is of these.
 * @throws Error where the product does not do as expected
 */
export async function tellPatternBoards(heatbook: HeatbookProcesses): Promise<void> {
  const released = board(RELEASED_BOARD, wornJob);
  const plain = Array.from({ length: PLAIN_BOARDS }, (_, n) => board(`${MARK}-${String(n)}`, lineJob));
  const boards = [...plain, board(OPEN_BOARD, wornJob), released];
  await tell(heatbook, stepsOf(boards, 0, STEPS_BEFORE_GATE));
  for (const asked of plain.filter((_, n) => n % ASKED_EVERY === 0)) await askAtGate(heatbook, asked);
  await tell(heatbook, stepsOf(boards, STEPS_BEFORE_GATE, Infinity));
  await releaseHolds(heatbook, RELEASED_BOARD);
  await tell(heatbook, [leavingNow({ ...released, said: [...released.said, shipped()] })]);
  const stillOpen = await openHolds(heatbook, RELEASED_BOARD);
  if (stillOpen.length > 0) throw new Error(`${RELEASED_BOARD} is held again: ${JSON.stringify(stillOpen)}`);
}

/** The last of what is said of a board, as of this moment: it leaves after the release, and not the day before. */
function leavingNow({ serial, said }: Board): string {
  return JSON.stringify({ ...events(serial, said).at(-1), time: new Date().toISOString() });
}

function board(serial: string, job: (device: string) => Said[]): Board {
  const device = `K-${serial}`;
  return { serial, device, said: job(device) };
}

/** The same work on a site that has no rework left, which therefore is held; the board is not shipped yet. */
function wornJob(device: string): Said[] {
  const [, ...later] = lineJob(device);
  const devices = [{ refdes: 'U7', device: `${device}-OLD`, priorExcursions: 1 }];
  return [received({ devices, sites: [{ refdes: 'U7', priorReworks: 3 }] }), ...later.slice(0, -1)];
}

/** Each step is taken on all boards before the next, so that the entries of one board lie apart, as on a floor. */
function stepsOf(boards: readonly Board[], first: number, end: number): Lane {
  const yesterday = Math.floor(Date.now() / DAY_MS) - 1;
  const told = boards.map(({ serial, said }) =>
    events(serial, said).map((event) => movedDays(JSON.stringify(event), yesterday - SHOP_DAY)),
  );
  const steps = Math.min(end, Math.max(...told.map(({ length }) => length)));
  return Array.from({ length: steps - first }, (_, n) => told.flatMap((texts) => texts[first + n] ?? [])).flat();
}

async function tell(heatbook: HeatbookProcesses, lane: Lane): Promise<void> {
  await sendLanes(heatbook.target('batch'), [inBatches(lane, BATCH)]);
  await heatbook.applied();
}

/** Asks for clearance and gives it back. */
async function askAtGate(heatbook: HeatbookProcesses, { serial, device }: Board): Promise<void> {
  const profile = { name: SHOP.profile, revision: 'A' };
  const steps = [
    { type: 'heatbook.device.removed.v1', refdes: 'U7', fate: 'scrap', profile },
    { type: 'heatbook.site.dressed.v1', refdes: 'U7', method: 'vacuum' },
  ];
  const wish = { assembly: SHOP.assembly, serial, operator: 'ann', station: SHOP.bench, steps };
  const { status, body } = await heatbook.call('POST', '/v1/clearances', wish);
  if (status !== 201) throw new Error(`${device}: not cleared: ${JSON.stringify(body)}`);
  const { id } = body as { id: string };
  await heatbook.call('DELETE', `/v1/clearances/${id}`);
}

async function releaseHolds(heatbook: HeatbookProcesses, serial: string): Promise<void> {
  const [url = ''] = heatbook.urls;
  const quinn = await signInPerson(url, heatbook.key, { name: 'quinn', roles: ['quality'] });
  const rita = await signInPerson(url, heatbook.key, { name: 'rita', roles: ['quality'] });
  const items = await openHolds(heatbook, serial);
  if (items.length === 0) throw new Error(`${serial} is not held`);
  for (const { id } of items) {
    const act = `/v1/holds/${id}`;
    const decision = { decision: 'rework', note: 'Joints sound; one more.', signature: quinn.signature() };
    const decided = await quinn.call('POST', `${act}/dispositions`, decision);
    const release = { note: 'Done and seen.', signature: rita.signature() };
    const released = await rita.call('POST', `${act}/release`, release);
    if (decided.status !== 201 || released.status !== 200) {
      throw new Error(`${id} was not released: ${JSON.stringify([decided.body, released.body])}`);
    }
  }
}

async function openHolds(heatbook: HeatbookProcesses, serial: string): Promise<readonly { readonly id: string }[]> {
  const { body } = await heatbook.call('GET', `/v1/holds?state=open&assembly=${SHOP.assembly}&serial=${serial}`);
  return (body as { items: { id: string }[] }).items;
}
