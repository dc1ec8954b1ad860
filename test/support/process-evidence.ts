import { seal } from '../../libs/evidence/seal.js';
import { EventStatus } from '../../libs/ledger/ports/read-store.js';
import { GENESIS_HASH, SealedEntry } from '../../libs/ledger/ports/seal.js';
import { BookClient } from './process-client.js';

export interface EventRef {
  readonly source: string;
  readonly id: string;
}

/** What the service says of events, and whatever is wrong with the ledgers that it names. */
export interface Evidence {
  /** By `source id`. */
  readonly states: ReadonlyMap<string, EventStatus['state']>;
  /** Faults in words: events that are not in their ledger once, entries whose hash or link is wrong. */
  readonly faults: readonly string[];
}

const AT_ONCE = 8;

export function refOf({ source, id }: EventRef): string {
  return `${source} ${id}`;
}

/** Asks for every event, reads every ledger that the answers name, and computes its chain anew. */
export async function gatherEvidence(client: BookClient, events: readonly EventRef[]): Promise<Evidence> {
  const statuses = await inParallel(events, async (event) => {
    const { source, id } = event;
    const status = await client.get(`/v1/events?${new URLSearchParams({ source, id }).toString()}`);
    return { event: refOf(event), status: status as EventStatus };
  });
  const named = new Set(statuses.flatMap(({ status }) => status.entries.map(({ subject }) => subject)));
  // Ledgers of stations are not to be had over HTTP; of them the answers for their events must do.
  const keys = [...named].filter((key) => !key.startsWith('stations/'));
  const ledgers = new Map(
    await inParallel(keys, async (key) => {
      const path = key.startsWith('devices/') ? key : `units/${key}`;
      return [key, (await client.list(`/v1/${path}/ledger?order=asc`)) as SealedEntry[]] as const;
    }),
  );
  return {
    states: new Map(statuses.map(({ event, status }) => [event, status.state])),
    faults: [
      ...statuses.flatMap(({ event, status }) => placementFaults(event, status, ledgers)),
      ...[...ledgers].flatMap(([key, entries]) => [...chainFaults(key, entries), ...doublingFaults(key, entries)]),
    ],
  };
}

/** An applied event stands in its subject's ledger once; one that is not applied stands in none. */
function placementFaults(
  event: string,
  { state, subject, type, entries }: EventStatus,
  ledgers: ReadonlyMap<string, readonly SealedEntry[]>,
): string[] {
  const wanted = state === 'applied' ? 1 : 0;
  const ledger = ledgers.get(subject);
  const times =
    ledger === undefined
      ? entries.filter((entry) => entry.subject === subject).length
      : ledger.filter((entry) => entry.type === type && entry.event !== null && refOf(entry.event) === event).length;
  return times === wanted ? [] : [`${event} is ${state} and stands ${times} times in the ledger of ${subject}`];
}

/** Entries, in the order of their ledger, that do not follow from the one before. */
export function chainFaults(key: string, entries: readonly SealedEntry[]): string[] {
  return entries.flatMap(({ hash, prevHash, ...body }, n) => {
    const before = n === 0 ? GENESIS_HASH : entries[n - 1]?.hash;
    const sound = body.seq === n + 1 && prevHash === before && seal.sealEntry(body, prevHash).hash === hash;
    return sound ? [] : [`entry ${body.seq} of ${key}, place ${n + 1}, does not fit its chain`];
  });
}

/** No ledger tells the same of an event twice, be it the event's own subject or one that it touched. */
function doublingFaults(key: string, entries: readonly SealedEntry[]): string[] {
  const told = entries.flatMap(({ type, event }) => (event === null ? [] : [`${type} ${refOf(event)}`]));
  return told.filter((one, n) => told.indexOf(one) !== n).map((one) => `${key} tells twice: ${one}`);
}

async function inParallel<T, R>(items: readonly T[], work: (item: T) => Promise<R>): Promise<R[]> {
  const results: R[] = [];
  for (let start = 0; start < items.length; start += AT_ONCE) {
    results.push(...(await Promise.all(items.slice(start, start + AT_ONCE).map(work))));
  }
  return results;
}
