import { isOpen } from '../../domain/clearance/clearance.js';
import { compareText, orderTime } from '../../domain/events/event-order.js';
import { parseStream, StreamKey } from '../../domain/subject/subject.js';
import { ClearanceRecord, clearanceState, reachOf } from '../clearances/clearance-record.js';
import { ClearanceFilter } from '../ports/clearance-store.js';
import { Page, PageRequest } from '../ports/read-store.js';
import { keysetPage } from './keyset-page.js';

/** By id. */
export function readClearances(rows: Iterable<string>): ClearanceRecord[] {
  return [...rows].map((row) => JSON.parse(row) as ClearanceRecord).sort((a, b) => compareText(a.id, b.id));
}

export function reaching(
  all: readonly ClearanceRecord[],
  keys: readonly StreamKey[],
  openAt?: string,
): readonly ClearanceRecord[] {
  return all.filter(
    (one) => reachOf(one).some((key) => keys.includes(key)) && (openAt === undefined || isOpen(one, openAt)),
  );
}

/** Newest first. */
export function clearancePage(
  all: readonly ClearanceRecord[],
  filter: ClearanceFilter,
  now: string,
  page: PageRequest,
): Page<ClearanceRecord> {
  const found = all.filter((one) => matches(one, filter, now));
  return keysetPage(found, ({ grantedAt, id }) => [descending(orderTime(grantedAt)), descending(id)], page);
}

/** Those that ran out with steps left, first over first. */
export function over(
  all: readonly ClearanceRecord[],
  now: string,
  limit: number,
): readonly { id: string; subject: string }[] {
  const due = all.filter((one) => one.lapsedAt === null && clearanceState(one, now) === 'lapsed');
  const place = ({ expiresAt, id }: ClearanceRecord): string => `${orderTime(expiresAt)} ${id}`;
  return due
    .sort((a, b) => compareText(place(a), place(b)))
    .slice(0, limit)
    .map(({ id, subject }) => ({ id, subject }));
}

function matches(one: ClearanceRecord, filter: ClearanceFilter, now: string): boolean {
  const stream = parseStream(one.subject);
  const unit = stream?.kind === 'unit' ? stream : undefined;
  const device = stream?.kind === 'device' ? stream.device : undefined;
  return (
    fits(filter.assembly, unit?.assembly) &&
    fits(filter.serial, unit?.serial) &&
    fits(filter.device, device) &&
    fits(filter.station, one.station) &&
    fits(filter.state, clearanceState(one, now))
  );
}

function fits<T>(wanted: T | undefined, value: T | undefined): boolean {
  return wanted === undefined || wanted === value;
}

/** A text that sorts the other way round; of equal length only. */
function descending(text: string): string {
  return Array.from(text, (letter) => String.fromCharCode(0xffff - letter.charCodeAt(0))).join('');
}
