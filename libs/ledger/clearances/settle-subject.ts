import { devicesAboard, devicesNamed } from '../../domain/book/reach.js';
import { Rules } from '../../domain/setup/setup-data.js';
import { anonymousDevice, deviceKey, parseStream, StreamKey } from '../../domain/subject/subject.js';
import { BookDeps } from '../fold/book-deps.js';
import { foldPending } from '../fold/fold-pending.js';
import { BookTransaction, SubjectRecord, TryAgain } from '../ports/book-store.js';

/** A transaction of the book, and whether it has the whole of it. */
export interface BookWork {
  readonly deps: BookDeps;
  readonly tx: BookTransaction;
  readonly whole: boolean;
}

/** A unit or loose device with everything that was posted of it folded, locked until the transaction ends. */
export interface SettledSubject {
  readonly record: SubjectRecord;
  /** It, the devices it has had or has, and those that were named. */
  readonly records: readonly SubjectRecord[];
  /** Events that could not be judged just now and will be tried again. */
  readonly unjudged: number;
}

/** The setup as it stands for this transaction. */
export async function rulesNow({ deps, tx }: Pick<BookWork, 'deps' | 'tx'>): Promise<Rules> {
  await deps.setup.reach(await tx.setupVersion());
  return deps.setup.latest();
}

/**
 * Brings a unit or loose device up to date with all that was posted of it, and locks it with its devices. Pending events
 * are claimed first and subjects locked after, units before devices: the order in which folds do, so that neither waits
 * for the other in a circle.
 * @param named devices that are to be looked at besides those it has
 * @throws TryAgain where its devices changed meanwhile, ReachesFarther where a late event needs the whole book.
 */
export async function settleSubject(
  { deps, tx, whole }: BookWork,
  rules: Rules,
  subject: StreamKey,
  named: readonly string[],
): Promise<SettledSubject> {
  const isUnit = parseStream(subject)?.kind === 'unit';
  const [peeked] = isUnit ? await tx.peek([subject]) : [];
  const devices = new Set([...named.map(deviceKey), ...devicesOf(subject, peeked, rules)]);
  devices.delete(subject);
  const boards = await boardsOf(tx, isUnit ? named.map(deviceKey) : [subject], deps.clock.now());
  const own = await tx.claimSubjects([...new Set([subject, ...devices, ...boards])]);
  const told = new Set(own.flatMap(({ event }) => devicesNamed(event).map(deviceKey)));
  told.delete(subject);
  const more = await tx.claimSubjects([...told].filter((key) => !devices.has(key)));
  for (const key of told) devices.add(key);
  const pending = [...own, ...more];
  const folded = pending.length === 0 ? undefined : await foldPending({ deps, tx, whole, rules }, pending);
  const [record] = await tx.load([subject]);
  if (record === undefined) throw new Error(`no record of ${subject}`);
  const known = isUnit ? [...devices] : [];
  const others = await tx.load(
    named.map(deviceKey).filter((key) => key !== subject),
    known,
  );
  if (devicesOf(subject, record, rules).some((key) => !devices.has(key))) {
    throw new TryAgain(`the devices of ${subject} changed in between`);
  }
  return { record, records: [record, ...others], unjudged: folded?.postponed.length ?? 0 };
}

/**
 * Units that may tell of devices by which they are named: where each was last, and where a clearance plans for it. What
 * comes off a board with a label that nobody had read is found by the latter.
 */
async function boardsOf(tx: BookTransaction, devices: readonly StreamKey[], now: string): Promise<StreamKey[]> {
  if (devices.length === 0) return [];
  const places = (await tx.peek(devices)).flatMap(({ state }) =>
    state?.kind === 'device' ? state.state.unitsSeen.slice(-1) : [],
  );
  return [...places, ...(await tx.subjectsReaching(devices, now))];
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
