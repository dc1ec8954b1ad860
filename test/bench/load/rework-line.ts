import { events } from '../../support/small-shop.js';
import { lineJob } from './line-job.js';

/** Boards that are worked on side by side: each step is taken on all of them before the next. */
const COHORT = 100;

/** What one client sends, one request after the other: events in the order in which they happened. */
export type Lane = readonly string[];

/** Events that the replacement of one device takes. */
export const EVENTS_A_BOARD = lineJob('K-0').length;

/**
 * Replacements of a device on boards of their own, well done: what a shift posts. Board by board the events come in order,
 * and never two of one board from two lanes.
 * @param series goes into every serial number and id, so that no two series meet in one book
 */
export function reworkLine(series: string, boards: number, lanes: number): Lane[] {
  const perLane = Math.ceil(boards / lanes);
  return Array.from({ length: lanes }, (_, lane) => {
    const own = Math.max(0, Math.min(perLane, boards - lane * perLane));
    return laneOf(`${series}-${String(lane)}`, own);
  });
}

function laneOf(series: string, boards: number): Lane {
  const texts: string[] = [];
  for (let first = 0; first < boards; first += COHORT) {
    const jobs = Array.from({ length: Math.min(COHORT, boards - first) }, (_, n) => {
      const serial = `${series}-${String(first + n)}`;
      return events(serial, lineJob(`D-${serial}`)).map((event) => JSON.stringify(event));
    });
    for (let step = 0; step < EVENTS_A_BOARD; step += 1) {
      for (const job of jobs) texts.push(job[step] ?? '');
    }
  }
  return texts;
}

/** How events are posted: some to a request, or one. */
export type Form = 'batch' | 'single';

/** Events of a batch. */
export const BATCH = 100;
/** Connections over which either is posted. */
export const CONNECTIONS: Readonly<Record<Form, number>> = { batch: 8, single: 64 };

/** The work on so many boards as the requests of each connection. */
export function requestsOf(form: Form, series: string, boards: number): Lane[] {
  const lanes = reworkLine(series, boards, CONNECTIONS[form]);
  return form === 'single' ? lanes : lanes.map((lane) => inBatches(lane, BATCH));
}

/** The same lane in batches, as the texts of JSON lists. */
export function inBatches(lane: Lane, size: number): Lane {
  return Array.from({ length: Math.ceil(lane.length / size) }, (_, n) => {
    return `[${lane.slice(n * size, (n + 1) * size).join(',')}]`;
  });
}
