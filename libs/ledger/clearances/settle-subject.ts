import { devicesAboard, devicesNamed } from '../../domain/book/reach.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { anonymousDevice, deviceKey, parseStream, StreamKey } from '../../domain/subject/subject.js';
import { BookDeps } from '../fold/book-deps.js';
import { foldPending } from '../fold/fold-pending.js';
import {
  BookTransaction,
  PendingEvent,
  Standing,
  StandingAsked,
  SubjectRecord,
  TryAgain,
} from '../ports/book-store.js';

/** A transaction of the book, and whether it has the whole of it. */
export interface BookWork {
  readonly deps: BookDeps;
  readonly tx: BookTransaction;
  readonly whole: boolean;
}

/** A unit or loose device as it was seen before anything was locked, with the setup as it stood then. */
export interface SightedSubject {
  readonly subject: StreamKey;
  readonly rules: Rules;
  /** Undefined where the book knows nothing of it. */
  readonly record: SubjectRecord | undefined;
  /** Devices that are to be looked at besides those it has. */
  readonly named: readonly StreamKey[];
  /** Units that may tell of devices by which they are named. */
  readonly boards: readonly StreamKey[];
}

/** A subject with everything that was posted of it folded. */
export interface FoldedSubject extends SightedSubject {
  /** Of a unit: those that it has had or has, and those that were named or told of. */
  readonly devices: readonly StreamKey[];
  /** Events that could not be judged just now and will be tried again. */
  readonly unjudged: number;
}

/**
 * Brings a unit or loose device up to date with all that was posted of it, and locks it until the transaction ends.
 * @throws TryAgain where its devices changed meanwhile, ReachesFarther where a late event needs the whole book.
 */
export async function settleSubject(work: BookWork, subject: StreamKey): Promise<SubjectRecord> {
  const folded = await foldSubject(work, await sightSubject(work, subject, []));
  const [record] = await work.tx.load([subject]);
  return settled(folded, record);
}

/**
 * Looks at a subject and the devices named with it, and at the setup. Locks nothing, so that all of it is asked at once.
 * Where a named device was last, and where a clearance plans for it, is looked for too: what comes off a board with a label
 * that nobody had read is found by the latter.
 */
export async function sightSubject(
  { deps, tx }: BookWork,
  subject: StreamKey,
  devices: readonly string[],
): Promise<SightedSubject> {
  const isUnit = parseStream(subject)?.kind === 'unit';
  const named = devices.map(deviceKey).filter((key) => key !== subject);
  const movable = isUnit ? named : [subject];
  const [version, seen, planning] = await Promise.all([
    tx.setupVersion(),
    tx.peek([subject, ...named]),
    movable.length === 0 ? [] : tx.subjectsReaching(movable, deps.clock.now()),
  ]);
  await deps.setup.reach(version);
  const places = seen.flatMap(({ key, state }) =>
    state?.kind === 'device' && movable.includes(key) ? state.state.unitsSeen.slice(-1) : [],
  );
  const record = seen.find(({ key }) => key === subject);
  return { subject, rules: deps.setup.latest(), record, named, boards: [...places, ...planning] };
}

/**
 * Folds what was posted of a subject. Pending events are claimed before anything is locked, and units are locked before
 * devices: the order in which folds do, so that neither waits for the other in a circle.
 * @throws ReachesFarther where a late event needs the whole book.
 */
async function foldSubject(work: BookWork, sighted: SightedSubject): Promise<FoldedSubject> {
  return foldClaimed(work, sighted, await work.tx.claimSubjects(claimedOf(sighted)));
}

/**
 * Folds what was posted of a subject and reads what stands about it, locked, as far as `asked` goes with the devices that are
 * to be looked at. Where nothing was posted, which is known once it is asked for, that is one question.
 * @throws ReachesFarther where a late event needs the whole book.
 */
export async function foldAndStand(
  work: BookWork,
  sighted: SightedSubject,
  asked: (devices: readonly StreamKey[]) => StandingAsked,
): Promise<{ readonly folded: FoldedSubject; readonly standing: Standing }> {
  const { tx } = work;
  const { subject, record } = sighted;
  let folded: FoldedSubject;
  if (record === undefined) {
    folded = await foldSubject(work, sighted);
    // One that is made now is locked before its devices are, as ever.
    await tx.load([subject]);
  } else {
    const devices = ifUnit(subject, devicesAt(sighted));
    const found = await tx.pendingOrStanding(claimedOf(sighted), asked(devices));
    if (found.pending === undefined) return { folded: { ...sighted, devices, unjudged: 0 }, standing: found.standing };
    folded = await foldClaimed(work, sighted, found.pending);
  }
  return { folded, standing: await tx.standing(asked(folded.devices)) };
}

async function foldClaimed(
  { deps, tx, whole }: BookWork,
  sighted: SightedSubject,
  own: readonly PendingEvent[],
): Promise<FoldedSubject> {
  const { subject, rules } = sighted;
  const devices = new Set(devicesAt(sighted));
  const told = new Set(own.flatMap(({ event }) => devicesNamed(event).map(deviceKey)));
  told.delete(subject);
  const more = await tx.claimSubjects([...told].filter((key) => !devices.has(key)));
  for (const key of told) devices.add(key);
  const pending = [...own, ...more];
  const folded =
    pending.length === 0 ? undefined : await foldPending({ deps, tx, whole, rules }, pending, [subject, ...devices]);
  return { ...sighted, devices: ifUnit(subject, [...devices]), unjudged: folded?.postponed.length ?? 0 };
}

function devicesAt({ subject, record, rules, named }: SightedSubject): StreamKey[] {
  return [...new Set([...named, ...devicesOf(subject, record, rules)])];
}

function claimedOf(sighted: SightedSubject): StreamKey[] {
  return [...new Set([sighted.subject, ...devicesAt(sighted), ...sighted.boards])];
}

function ifUnit(subject: StreamKey, devices: StreamKey[]): StreamKey[] {
  return parseStream(subject)?.kind === 'unit' ? devices : [];
}

/**
 * The record of a subject that is locked now, if it still has the devices that were looked after.
 * @throws TryAgain where it has others.
 */
export function settled({ subject, rules, devices }: FoldedSubject, record: SubjectRecord | undefined): SubjectRecord {
  if (record === undefined) throw new Error(`no record of ${subject}`);
  if (devicesOf(subject, record, rules).some((key) => !devices.includes(key))) {
    throw new TryAgain(`the devices of ${subject} changed in between`);
  }
  return record;
}

/** Devices that a unit has or had; of one that nobody has told of yet, those that it was built with. */
function devicesOf(subject: StreamKey, record: SubjectRecord | undefined, rules: Rules): StreamKey[] {
  if (record?.state?.kind === 'unit') {
    const unit = record.state.state;
    return [...devicesAboard(unit), ...unit.devicesSeen].map(deviceKey);
  }
  const stream = parseStream(subject);
  if (stream?.kind !== 'unit') return [];
  const sites = rules.find('assembly', stream.assembly)?.body.sites ?? [];
  return sites.map(({ refdes }) => deviceKey(anonymousDevice(stream.assembly, stream.serial, refdes)));
}
