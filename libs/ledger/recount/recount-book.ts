import { StreamKey } from '../../domain/subject/subject.js';
import { faultsOfLog } from '../log/check-log.js';
import { Sha256 } from '../log/merkle/hashing.js';
import { SubjectRecord } from '../ports/book-store.js';
import { RecountReads, RecountStore } from '../ports/recount-store.js';
import { Seal } from '../ports/seal.js';
import { addUp } from './add-up.js';
import { checkClearances } from './check-clearances.js';
import { checkHolds } from './check-holds.js';
import { checkInbox } from './check-inbox.js';
import { checkMarks } from './check-marks.js';
import { compareStates } from './compare-states.js';
import { Tell } from './difference.js';
import { MarkSums } from './mark-sums.js';
import { noCounts, RecountCounts } from './recount-counts.js';
import { RecountWork } from './recount-work.js';
import { linksOfState, readStory } from './story.js';

export interface RecountDeps {
  readonly store: RecountStore;
  readonly seal: Seal;
  readonly sha256: Sha256;
}

/** Subjects whose stories are told together. */
const PAGE = 50;
/** Ledgers without a subject that are gone through; more of them are told in the next recount. */
const STRAYS = 1000;

/**
 * Works out from the entries alone what the book keeps beside them: chains and heads, states with every tally, holds,
 * clearances, the inbox, marks and the site-wide log; and tells every difference. Reads as of one moment, page by page.
 * @param progress told of the counts after each page of ledgers
 */
export async function recountBook(
  { store, seal, sha256 }: RecountDeps,
  tell: Tell,
  progress: (counts: RecountCounts) => void = () => undefined,
): Promise<RecountCounts> {
  return store.snapshot(async (reads) => {
    const counts = noCounts();
    const work: RecountWork = { reads, seal, tell, counts, marks: new MarkSums() };
    await recountLedgers(work, () => {
      progress(counts);
    });
    await checkMarks(work);
    await checkInbox(work);
    counts.leaves = await reads.log.size();
    const faults = await faultsOfLog({ siteLog: reads.log, sha256, seal, reads: { ledger: reads.ledger.bind(reads) } });
    for (const fault of faults)
      tell({ subject: 'log', what: 'site-wide log', kept: fault, recomputed: 'the ledgers as they are' });
    return counts;
  });
}

/**
 * Units first, each with the units that it shares devices with; then what no unit has told of: loose devices, stations and
 * the ledgers of the book's own.
 */
async function recountLedgers(work: RecountWork, told: () => void): Promise<void> {
  const strays = new Set(await work.reads.strayKeys(STRAYS));
  // What was told with something before it, and is not to be told again.
  const ahead = new Set<StreamKey>();
  const tell = async (records: readonly SubjectRecord[], last: StreamKey): Promise<void> => {
    const story = await recount(work, keysOf(records), records);
    const led = new Set(story.units.flatMap(linksOfState));
    for (const key of story.keys) {
      strays.delete(key);
      if (isUnit(key) ? key > last : !led.has(key) && (story.units.length > 0 || key > last)) ahead.add(key);
    }
    told();
  };
  for await (const page of pagesOf(work.reads)) {
    const units = page.filter(({ key }) => isUnit(key) && !ahead.delete(key));
    await tell(units, page.at(-1)?.key ?? '');
  }
  for await (const page of pagesOf(work.reads)) {
    const others = page.filter(({ key }) => !isUnit(key) && !ahead.delete(key));
    await tell(await untold(work.reads, others), page.at(-1)?.key ?? '');
  }
  await recount(work, [...strays], []);
}

function keysOf(records: readonly SubjectRecord[]): StreamKey[] {
  return records.map(({ key }) => key);
}

async function* pagesOf(reads: RecountReads): AsyncIterable<readonly SubjectRecord[]> {
  for (let after: StreamKey | null = null; ;) {
    const page: readonly SubjectRecord[] = await reads.subjects(after, PAGE);
    if (page.length > 0) yield page;
    const last = page.at(-1);
    if (last === undefined || page.length < PAGE) return;
    after = last.key;
  }
}

function isUnit(key: StreamKey): boolean {
  return !/^(devices\/|stations\/|#|~)/.test(key);
}

/** Those that no unit leads to. */
async function untold(reads: RecountReads, records: readonly SubjectRecord[]): Promise<readonly SubjectRecord[]> {
  const units = new Set(records.flatMap((record) => linksOfState(record)));
  if (units.size === 0) return records;
  const led = new Set((await reads.subjectsOf([...units])).flatMap((record) => linksOfState(record)));
  return records.filter(({ key }) => !led.has(key));
}

/** @returns the keys of everything that was told with them, and the units among it. */
async function recount(
  work: RecountWork,
  keys: readonly StreamKey[],
  records: readonly SubjectRecord[],
): Promise<{ readonly keys: readonly StreamKey[]; readonly units: readonly SubjectRecord[] }> {
  if (keys.length === 0) return { keys, units: [] };
  const story = await readStory(work, keys, records);
  const holds = await work.reads.holds(story.keys);
  const sum = addUp(work, story, holds);
  compareStates(work, story, sum);
  await checkHolds(work, story, sum, holds);
  checkClearances(work, story, sum);
  return { keys: story.keys, units: [...story.records.values()].filter(({ key }) => isUnit(key)) };
}
