import { orderTime } from '../../domain/events/event-order.js';
import { StreamKey } from '../../domain/subject/subject.js';
import { Contained, ContainedMark, ContainmentRecord, ContainmentRound } from '../containment/containment-record.js';
import { HoldRecord } from '../holds/hold-record.js';
import { ContainmentProgress, ContainmentStore } from '../ports/containment-store.js';
import { Page, PageRequest } from '../ports/read-store.js';
import { inverted, keysetPage } from './keyset-page.js';
import { MemoryTables } from './memory-tables.js';
import { roundTrip } from './round-trip.js';

const MOST_ABANDONED = 100;

/** Containments in the memory of this process. */
export class MemoryContainmentStore implements ContainmentStore {
  readonly #tables: MemoryTables;

  constructor(tables: MemoryTables) {
    this.#tables = tables;
  }

  async add(record: ContainmentRecord): Promise<void> {
    await roundTrip();
    this.#set(record);
  }

  async get(id: string): Promise<ContainmentRecord | undefined> {
    await roundTrip();
    return this.#read(id);
  }

  async list(page: PageRequest): Promise<Page<ContainmentRecord>> {
    await roundTrip();
    // Newest first: places sort the other way round than times do.
    const place = ({ requestedAt, id }: ContainmentRecord): string[] => [
      inverted(orderTime(requestedAt)),
      inverted(id),
    ];
    return keysetPage(this.#all(), place, page);
  }

  async again(id: string, round: ContainmentRound, at: string): Promise<ContainmentRecord | 'not-found' | 'busy'> {
    await roundTrip();
    const record = this.#read(id);
    if (record === undefined) return 'not-found';
    if (isUnderWay(record)) return 'busy';
    const fresh = { state: 'finding', found: null, held: 0, attempts: 0, failure: null, finishedAt: null } as const;
    return this.#set({ ...record, ...fresh, seenAt: at, rounds: [...record.rounds, round] });
  }

  async begin(id: string, at: string): Promise<ContainmentRecord | undefined> {
    await roundTrip();
    const record = this.#read(id);
    if (record === undefined || !isUnderWay(record)) return undefined;
    return this.#set({ ...record, state: 'finding', attempts: record.attempts + 1, seenAt: at });
  }

  async progress(id: string, progress: ContainmentProgress, at: string): Promise<void> {
    await roundTrip();
    const record = this.#read(id);
    if (record !== undefined && isUnderWay(record)) this.#set({ ...record, ...progress, seenAt: at });
  }

  async failed(id: string, why: string, last: boolean, at: string): Promise<void> {
    await roundTrip();
    const record = this.#read(id);
    if (record === undefined || !isUnderWay(record)) return;
    const over = last ? ({ state: 'failed', finishedAt: at } as const) : {};
    this.#set({ ...record, ...over, held: 0, failure: why, seenAt: at });
  }

  async abandoned(notBegunBefore: string, notSeenBefore: string): Promise<readonly string[]> {
    await roundTrip();
    const due = this.#all().filter(
      (record) =>
        isUnderWay(record) &&
        orderTime(record.seenAt) < orderTime(record.attempts === 0 ? notBegunBefore : notSeenBefore),
    );
    return due
      .sort((a, b) => (orderTime(a.seenAt) < orderTime(b.seenAt) ? -1 : 1))
      .slice(0, MOST_ABANDONED)
      .map(({ id }) => id);
  }

  async contained(id: string, page: PageRequest): Promise<Page<Contained>> {
    await roundTrip();
    return keysetPage(this.#contained(id), ({ key }) => [key], page);
  }

  async marks(id: string): Promise<ReadonlyMap<StreamKey, ContainedMark>> {
    await roundTrip();
    return new Map(
      this.#contained(id).map(({ key, touches, hold }) => {
        const held = JSON.parse(this.#tables.holds.get(hold) ?? 'null') as HoldRecord | null;
        return [key, { touches, open: held?.state === 'open' }];
      }),
    );
  }

  #all(): ContainmentRecord[] {
    return [...this.#tables.containments.values()].map((row) => JSON.parse(row) as ContainmentRecord);
  }

  #read(id: string): ContainmentRecord | undefined {
    const row = this.#tables.containments.get(id);
    return row === undefined ? undefined : (JSON.parse(row) as ContainmentRecord);
  }

  #set(record: ContainmentRecord): ContainmentRecord {
    this.#tables.containments.set(record.id, JSON.stringify(record));
    return record;
  }

  #contained(id: string): Contained[] {
    return [...this.#tables.contained].flatMap(([place, row]) =>
      place.startsWith(`${id} `) ? [JSON.parse(row) as Contained] : [],
    );
  }
}

function isUnderWay({ state }: ContainmentRecord): boolean {
  return state === 'finding' || state === 'holding';
}
