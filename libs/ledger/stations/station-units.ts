import { compareText } from '../../domain/events/event-order.js';
import { parseStream, StreamKey } from '../../domain/subject/subject.js';
import { MARK } from '../containment/marks-of.js';
import { Interval } from '../containment/suspect-cause.js';
import { FactRow, LedgerSearch } from '../ports/ledger-search.js';
import { Page, PageRequest } from '../ports/read-store.js';
import { SetupBook } from '../setup/setup-book.js';

/** Facts of one station that are looked through for one page; a busy bench makes some hundred a day. */
const MOST_FACTS = 20_000;

/** A unit that a station told something of. */
export interface StationUnit {
  readonly assembly: string;
  readonly serial: string;
  /** Empty where the assembly is not set up. */
  readonly customer: string;
  readonly state: string;
  /** When the first and the last of it happened within the interval, RFC 3339 UTC. */
  readonly firstAt: string;
  readonly lastAt: string;
  /** How many facts it told of the unit within the interval. */
  readonly events: number;
}

/** The station did more within the interval than is looked through at once. */
export class TooManyFacts extends Error {
  override readonly name = 'TooManyFacts';

  constructor() {
    super(`The station told of more than ${MOST_FACTS} things in that time: ask about a shorter one.`);
  }
}

interface Touch {
  readonly key: StreamKey;
  readonly firstAt: string;
  readonly lastAt: string;
  readonly events: number;
}

/**
 * The units that a station told something of within an interval, the one it told of last first. What is annulled does not
 * count; loose devices are left out.
 * @throws TooManyFacts
 * @throws RangeError where the cursor is not one that this list gave
 */
export async function stationUnits(
  { search, setup }: { readonly search: Pick<LedgerSearch, 'factsMarked' | 'subjectsOf'>; readonly setup: SetupBook },
  { station, interval }: { readonly station: string; readonly interval: Interval },
  { limit, cursor }: PageRequest,
): Promise<Page<StationUnit>> {
  const facts = await search.factsMarked({ mark: MARK.station(station) }, interval, MOST_FACTS + 1);
  if (facts.length > MOST_FACTS) throw new TooManyFacts();
  const touches = touchesOf(facts).sort(newestFirst);
  const start = cursor === null ? 0 : firstAfter(touches, cursor);
  const shown = touches.slice(start, start + limit);
  const last = shown.at(-1);
  const hasMore = last !== undefined && start + limit < touches.length;
  return { items: await described({ search, setup }, shown), next: hasMore ? placeOf(last) : null };
}

function touchesOf(facts: readonly FactRow[]): Touch[] {
  const touches = new Map<StreamKey, Touch>();
  for (const { subject: key, at } of facts) {
    if (parseStream(key)?.kind !== 'unit') continue;
    const { firstAt = at, lastAt = at, events = 0 } = touches.get(key) ?? {};
    touches.set(key, {
      key,
      firstAt: at < firstAt ? at : firstAt,
      lastAt: at > lastAt ? at : lastAt,
      events: events + 1,
    });
  }
  return [...touches.values()];
}

function newestFirst(a: Pick<Touch, 'lastAt' | 'key'>, b: Pick<Touch, 'lastAt' | 'key'>): number {
  return compareText(b.lastAt, a.lastAt) || compareText(a.key, b.key);
}

function placeOf({ lastAt, key }: Touch): string {
  return `${lastAt} ${key}`;
}

/** By place rather than by unit, since a unit moves to the front when it is touched again. */
function firstAfter(touches: readonly Touch[], cursor: string): number {
  const [, lastAt, key] = /^(\S{27}) (\S+)$/.exec(cursor) ?? [];
  if (lastAt === undefined || key === undefined) throw new RangeError('The cursor is not one that this list gave.');
  const found = touches.findIndex((touch) => newestFirst(touch, { lastAt, key }) > 0);
  return found === -1 ? touches.length : found;
}

async function described(
  { search, setup }: { readonly search: Pick<LedgerSearch, 'subjectsOf'>; readonly setup: SetupBook },
  touches: readonly Touch[],
): Promise<StationUnit[]> {
  await setup.catchUp();
  const rules = setup.latest();
  const records = new Map((await search.subjectsOf(touches.map(({ key }) => key))).map((one) => [one.key, one.state]));
  return touches.flatMap(({ key, firstAt, lastAt, events }) => {
    const state = records.get(key);
    if (state?.kind !== 'unit') return [];
    const { assembly, serial, status } = state.state;
    const customer = rules.find('assembly', assembly)?.body.customer ?? '';
    return [{ assembly, serial, customer, state: status, firstAt, lastAt, events }];
  });
}
