import { StoredTrace } from '../../../libs/ledger/ports/trace-store.js';
import { post, postsOf, repeated } from './arrival.js';
import { clearedShift, DemoRequest } from './demo-clearances.js';
import { DemoItem, DemoPost } from './demo-post.js';
import { SetupItem } from '../../../libs/simulator/setup-item.js';
import { demoSetup } from './demo-setup.js';
import { Shift } from './shift.js';
import { ShiftLog } from './shift-log.js';
import { StationCloudEvent } from '../../../libs/simulator/station-cloud-event.js';
import { abortedRemoval, hotNeighbour, loggedTouchUp, touchUp, wholeBoardReflow } from './stories/heats.js';
import { backToDressing, givenUp, LATE_ID, liftedPad, thirdReworkOfTwo } from './stories/inspections.js';
import { misreadLabel, mistypedAssembly, occupiedSite, shippedUninspected } from './stories/mistakes.js';
import { afternoonBoards, morningBoards } from './stories/ordinary-boards.js';
import {
  fountainDeballed,
  keptThenScrapped,
  loggedReball,
  movedDevice,
  oneTooMany,
  spentToScrap,
} from './stories/reused-devices.js';
import { bathsAnalysed } from './stories/baths.js';
import { wornPads, convertedUnflushed, crossedChannels, longOpenBag, unevenSite } from './stories/measured.js';
import { recordedHeats } from './traces/traced-heat.js';

/** Any number would do: it only moves readings within their bands. */
const SEED = 20_260_302;

/** A logger's file as a station uploads it. */
type DemoTraceFile = Pick<StoredTrace, 'name' | 'csv' | 'voltage'>;

export interface Demo {
  readonly setup: readonly SetupItem[];
  /** Files of the loggers, that heats of the shift name. */
  readonly traces: readonly DemoTraceFile[];
  /** What benches ask for before they get hot, in the order in which they ask. */
  readonly requests: readonly DemoRequest[];
  /** In the order of arrival. */
  readonly posts: readonly DemoPost[];
}

/**
 * An invented shift of a rework house, the same on every call: the setup and traces to enter first, and what its stations
 * then post, with the answer that each event should get.
 */
export function makeDemo(): Demo {
  const log = new ShiftLog(SEED);
  tellShift(new Shift(log));
  const { events, requests } = clearedShift(log.events);
  const prompt = events.filter(({ id }) => id !== LATE_ID);
  const late = events.filter(({ id }) => id === LATE_ID);
  const traces = [...recordedHeats().values()].map(({ trace: { name, csv, voltage = null } }) => ({
    name,
    csv,
    voltage,
  }));
  return { setup: demoSetup(), traces, requests, posts: [...withSlips(postsOf(prompt)), ...postsOf(late)] };
}

function tellShift(shift: Shift): void {
  bathsAnalysed(shift.log);
  morningBoards(shift);
  movedDevice(shift);
  oneTooMany(shift);
  hotNeighbour(shift);
  backToDressing(shift);
  liftedPad(shift);
  misreadLabel(shift);
  fountainDeballed(shift);
  occupiedSite(shift);
  shippedUninspected(shift);
  mistypedAssembly(shift);
  wholeBoardReflow(shift);
  abortedRemoval(shift);
  touchUp(shift);
  keptThenScrapped(shift);
  spentToScrap(shift);
  thirdReworkOfTwo(shift);
  givenUp(shift);
  afternoonBoards(shift);
  loggedReball(shift);
  loggedTouchUp(shift);
  crossedChannels(shift);
  longOpenBag(shift);
  convertedUnflushed(shift);
  wornPads(shift);
  unevenSite(shift);
}

const BAKED: StationCloudEvent['type'] = 'heatbook.unit.baked.v1';

/** What goes wrong between a station and the book: posts repeated, an id used twice, events of no known shape. */
function withSlips(posts: readonly DemoPost[]): DemoPost[] {
  const [first] = posts;
  const removal = findPost(posts, 'heatbook.device.removed.v1');
  const inspection = findPost(posts, 'heatbook.inspection.recorded.v1');
  const placement = findPost(posts, 'heatbook.device.placed.v1');
  const bake = posts.find(({ body, events: [item] }) => body === 'batch' && item?.event['type'] === BAKED);
  return posts.flatMap((one) => {
    if (one === first) return [one, repeated(one)];
    if (one === removal) return [one, repeated(one)];
    if (one === inspection) return [one, idUsedTwice(one)];
    if (one === placement) return [unreadable(one), one];
    return [one === bake ? spoiltBake(one) : one];
  });
}

/** The first post of its own with an event of this type. */
function findPost(posts: readonly DemoPost[], type: StationCloudEvent['type']): DemoPost | undefined {
  return posts.find(({ body, events: [item] }) => body === 'single' && item?.event['type'] === type);
}

function idUsedTwice({ station, events }: DemoPost): DemoPost {
  return post(
    station,
    events.map(({ event }) => ({
      expected: 'rejected',
      status: 409,
      event: { ...event, data: { ...dataOf(event), result: 'fail' } },
    })),
  );
}

/** A placement whose heat is a word. Its station mends it and posts the true one under its own id. */
function unreadable({ station, events }: DemoPost): DemoPost {
  return post(
    station,
    events.map(({ event }) => ({
      expected: 'rejected',
      status: 422,
      event: { ...event, id: `${String(event['id'])}:draft`, data: { ...dataOf(event), heat: 'hot' } },
    })),
  );
}

/** One bake in a batch lacks its temperature; the others are good. */
function spoiltBake(one: DemoPost): DemoPost {
  const [item] = one.events;
  if (item === undefined) return one;
  const { event } = item;
  const spoilt = { ...event, id: `${String(event['id'])}:draft`, data: { startedAt: event['time'] } };
  return { ...one, events: [...one.events, { expected: 'rejected', status: 422, event: spoilt }] };
}

function dataOf(event: DemoItem['event']): object {
  const { data } = event;
  return typeof data === 'object' && data !== null ? data : {};
}
