import { newestBookEntry, LOG_ENTRY_TYPES } from './book-entries.js';
import { censusBranches, censusOver } from './census-branches.js';
import { CensusData, CensusGroup } from './log-evidence.js';
import { noteFinding } from './log-trouble.js';
import { GrowingRoot } from './growing-root.js';
import { sameBytes } from './merkle/hashing.js';
import { LogCheckReads } from '../ports/log-store.js';
import { SiteLogDeps } from './site-log-deps.js';
import { entryLeaf } from './stored-subtrees.js';

const PAGE = 2000;
/** Faults that are named; of more there is only said that there are. */
const NAMED = 5;
const DAY_MS = 86_400_000;
/** While something is wrong it is looked again sooner. */
const AGAIN_MS = 600_000;

/** Checks the log once a day, and every ten minutes while something is wrong with it. */
export async function checkLogWhenDue(deps: SiteLogDeps, stopped: () => boolean = () => false): Promise<void> {
  const before = (await deps.siteLog.findings()).find(({ watcher }) => watcher === 'check');
  const waitMs = before?.trouble == null ? DAY_MS : AGAIN_MS;
  const sinceMs = before === undefined ? Infinity : Date.parse(deps.clock.now()) - Date.parse(before.at);
  // One that is yet to come was written past the service: it must not keep the check from running.
  if (sinceMs >= 0 && sinceMs < waitMs) return;
  await checkLog(deps, stopped);
}

/**
 * Works the log out again from its leaves and compares it with what was signed and counted, and with the ledgers as they
 * are: an entry or a ledger that is gone or was changed is found and named. Reads every leaf once.
 * @returns what is wrong, in words; empty where nothing is
 */
export async function checkLog(deps: SiteLogDeps, stopped: () => boolean = () => false): Promise<readonly string[]> {
  const faults = await faultsOfLog(deps, stopped);
  // Half a check says nothing.
  if (stopped()) return faults;
  const more = faults.length > NAMED ? [`and ${faults.length - NAMED} more`] : [];
  const told = [...faults.slice(0, NAMED), ...more].join('; ');
  const trouble =
    faults.length === 0
      ? null
      : `it does not fit the ledgers any more: ${told}. Somebody has changed the database past the service: compare it ` +
        'with a backup and with exports that were handed out before.';
  await noteFinding(deps, 'check', trouble);
  return faults;
}

/** What the check stands on. */
export interface LogCheckDeps extends Pick<SiteLogDeps, 'sha256' | 'seal' | 'reads'> {
  readonly siteLog: LogCheckReads;
}

/** Finds what the check finds, and tells nobody but the caller. */
export async function faultsOfLog(
  deps: LogCheckDeps,
  stopped: () => boolean = () => false,
): Promise<readonly string[]> {
  return [
    ...(await faultsOfLeaves(deps, stopped)),
    ...(await faultsOfCensus(deps, stopped)),
    ...(await faultsOutsideLog(deps)),
  ];
}

async function faultsOfLeaves({ siteLog, sha256 }: LogCheckDeps, stopped: () => boolean): Promise<string[]> {
  const checkpoint = await siteLog.checkpoint();
  const root = new GrowingRoot(sha256);
  const faults: string[] = [];
  const gone = new GoneEntries();
  let next = 0;
  for (let isWhole = true; isWhole && !stopped();) {
    const page = await siteLog.besideLedgers(next, PAGE);
    for (const { index, subject, seq, hash, ledgerHash } of page) {
      if (index !== next) faults.push(`leaves ${next} to ${index - 1} are gone from the log`);
      if (ledgerHash === null) gone.take(subject, seq);
      else if (ledgerHash !== hash) faults.push(`entry ${seq} of ${subject} is another than the log has`);
      if (root.size < (checkpoint?.size ?? 0)) root.add(entryLeaf(sha256, hash));
      next = index + 1;
    }
    isWhole = page.length === PAGE && faults.length <= 10 * NAMED;
  }
  faults.unshift(...gone.faults());
  if (checkpoint === undefined || stopped() || faults.length > 10 * NAMED) return faults;
  const fits = root.size === checkpoint.size && sameBytes(root.root(), checkpoint.root);
  return fits ? faults : [...faults, `the leaves do not give the root of the checkpoint of size ${checkpoint.size}`];
}

/** Told once for each ledger, so that one ledger does not hide what befell another. */
class GoneEntries {
  readonly #ledgers = new Map<string, { readonly first: number; count: number }>();

  take(subject: string, seq: number): void {
    const ledger = this.#ledgers.get(subject);
    if (ledger === undefined) this.#ledgers.set(subject, { first: seq, count: 1 });
    else ledger.count += 1;
  }

  faults(): string[] {
    return [...this.#ledgers].map(([subject, { first, count }]) => {
      const more = count === 1 ? 'is' : `and ${count - 1} after it are`;
      return `entry ${first} of ${subject} ${more} gone from its ledger`;
    });
  }
}

/** What nobody told the log of, nobody can prove; and it could be changed without a trace. */
async function faultsOutsideLog({ siteLog }: LogCheckDeps): Promise<string[]> {
  const outside = await siteLog.outsideLog(10 * NAMED);
  return outside.map(({ subject, seq }) => `entry ${seq} of ${subject} was kept from the log`);
}

/** The newest census, worked out again. */
async function faultsOfCensus(deps: LogCheckDeps, stopped: () => boolean): Promise<string[]> {
  const { siteLog, sha256, seal, reads } = deps;
  const entry = await newestBookEntry(reads, LOG_ENTRY_TYPES.censusTaken);
  if (entry === undefined) return [];
  const { day, size, root } = entry.data as CensusData;
  const hashing = { sha256, canonical: (value: unknown) => seal.canonical(value) };
  const groups: CensusGroup[] = [];
  for await (const branch of censusBranches(hashing, siteLog, size)) {
    if (stopped()) return [];
    groups.push(branch.group);
  }
  if ((await censusOver(hashing, groups)).root === root) return [];
  const counted = await siteLog.censusGroups(size);
  const faults = counted.flatMap((before) => faultOfGroup(day, before, groups) ?? []);
  return faults.length > 0 ? faults : [`the census of ${day} cannot be worked out again`];
}

function faultOfGroup(day: string, before: CensusGroup, groups: readonly CensusGroup[]): string | undefined {
  const now = groups.find(({ group }) => group === before.group);
  if (now?.root === before.root) return undefined;
  return (
    `the census of ${day} counted ${before.ledgers} ledgers with ${before.entries} entries in ${before.group}, ` +
    `and the log has ${now?.ledgers ?? 0} with ${now?.entries ?? 0}`
  );
}
