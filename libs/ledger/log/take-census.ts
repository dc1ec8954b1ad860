import { bookEntries, LOG_ENTRY_TYPES, newestBookEntry, writeBookEntry } from './book-entries.js';
import { censusBranches, censusOver } from './census-branches.js';
import { BOOK_STREAM, CensusData, CensusGroup } from './log-evidence.js';
import { currentKey } from './log-keys.js';
import { rootAt } from './merkle/merkle-proofs.js';
import { toHex } from './notes/hex.js';
import { sequenceLog } from './sequence-log.js';
import { SiteLogDeps } from './site-log-deps.js';
import { storedSubtrees } from './stored-subtrees.js';

/** A day is counted so long after its end: what was being written then is committed by now, or never will be. */
const GRACE_MS = 60_000;
const DAY_MS = 86_400_000;

/**
 * Takes the census of every UTC day that has ended since the last one and on which something was written, oldest first.
 * A census is over the log up to the newest entry that was recorded before the day's end, as the log has it now. The first
 * one of a book is that of the last day that has ended. Without a key on record there is none: nobody could check it.
 */
export async function takeCensus(deps: SiteLogDeps, stopped: () => boolean = () => false): Promise<void> {
  if ((await currentKey(deps.reads)) === undefined) return;
  // What was recorded before the day's end is to have its place.
  if ((await deps.siteLog.waitingCount()) > 0) await sequenceLog(deps, stopped);
  for (let day = await dayDue(deps); day !== undefined && !stopped(); day = await dayDue(deps)) {
    const due = await censusOf(deps, day);
    if (due === undefined) return;
    await writeBookEntry(deps, (entries) => {
      const last = entries.findLast(({ type }) => type === LOG_ENTRY_TYPES.censusTaken);
      // Another worker may have taken it meanwhile.
      const isTaken = last !== undefined && (last.data as CensusData).day >= due.day;
      return isTaken ? undefined : { type: LOG_ENTRY_TYPES.censusTaken, data: due };
    });
  }
}

/** Every census, oldest first, by the entries that tell of them. */
export async function* censuses(
  reads: SiteLogDeps['reads'],
  afterSeq = 0,
): AsyncIterable<{ readonly seq: number; readonly hash: string; readonly data: CensusData }> {
  for await (const { seq, hash, data } of bookEntries(reads, LOG_ENTRY_TYPES.censusTaken, afterSeq)) {
    yield { seq, hash, data: data as CensusData };
  }
}

/** The day that is to be counted next, where it has ended. */
async function dayDue({ siteLog, reads, clock }: SiteLogDeps): Promise<string | undefined> {
  const settledMs = Date.parse(clock.now()) - GRACE_MS;
  const lastEnded = dayAt(settledMs - DAY_MS);
  const entry = await newestBookEntry(reads, LOG_ENTRY_TYPES.censusTaken);
  if (entry === undefined) return (await siteLog.sizeBefore(endOf(lastEnded))) > 0 ? lastEnded : undefined;
  const last = entry.data as CensusData;
  // What the book writes about itself, the census too, is no reason for another one.
  const recordedAt = await siteLog.nextRecorded(last.size, BOOK_STREAM);
  if (recordedAt === undefined) return undefined;
  const [recorded, next] = [dayAt(Date.parse(recordedAt)), dayAt(Date.parse(endOf(last.day)))];
  const day = recorded > next ? recorded : next;
  return day <= lastEnded ? day : undefined;
}

async function censusOf(deps: SiteLogDeps, day: string): Promise<CensusData | undefined> {
  const { siteLog, sha256, seal } = deps;
  const hashing = { sha256, canonical: (value: unknown) => seal.canonical(value) };
  const size = await siteLog.sizeBefore(endOf(day));
  if (size === 0) return undefined;
  const groups: CensusGroup[] = [];
  for await (const { group } of censusBranches(hashing, siteLog, size)) groups.push(group);
  await siteLog.keepCensusGroups(size, groups);
  const { ledgers, entries, root } = await censusOver(hashing, groups);
  const logRoot = toHex(await rootAt(sha256, storedSubtrees(sha256, siteLog), size));
  return { day, size, logRoot, groups: groups.length, ledgers, entries, root };
}

/** `YYYY-MM-DD` in UTC. */
function dayAt(ms: number): string {
  return new Date(ms).toISOString().slice(0, 10);
}

/** The instant at which a day is over, RFC 3339 UTC. */
function endOf(day: string): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + DAY_MS).toISOString();
}
