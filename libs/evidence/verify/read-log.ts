import type { CensusData, CensusGroup, LedgerPlace } from '../../ledger/log/log-evidence.js';
import { MAX_PATH } from '../../ledger/log/merkle/hashing.js';
import type { ReadExtras } from './read-audit.js';
import { Malformed, Members } from './read-members.js';

/** More than any file needs; a longer list is not read, so that no file keeps a reader busy. */
const MOST = { keys: 1000, inclusion: 100_000, consistency: 1000, censuses: 400 } as const;

export interface ReadKey {
  readonly vkey: string;
  readonly since: string;
  readonly endorsement: string | null;
}

export interface ReadInclusion extends LedgerPlace {
  readonly index: number;
  readonly path: readonly Uint8Array[];
}

export interface ReadConsistency {
  readonly from: number;
  readonly to: number;
  readonly path: readonly Uint8Array[];
}

/** A group of a census, and that the census has it. */
export interface ReadCensusGroup {
  /** The entry of the census as the file has it. */
  readonly entry: Readonly<Record<string, unknown>>;
  readonly data: CensusData;
  readonly inclusion: ReadInclusion;
  readonly group: CensusGroup;
  readonly groupIndex: number;
  readonly groupPath: readonly Uint8Array[];
}

/** A ledger in a census. */
export interface ReadCensus extends ReadCensusGroup {
  readonly ledger: LedgerPlace;
  readonly ledgerIndex: number;
  readonly ledgerPath: readonly Uint8Array[];
}

/** What a file carries of the log; its shape is right, and nothing in it is believed yet. */
export interface ReadLog {
  readonly origin: string;
  readonly checkpoint: string;
  readonly keys: readonly ReadKey[];
  readonly inclusion: readonly ReadInclusion[];
  readonly consistency: readonly ReadConsistency[];
  readonly censuses: readonly ReadCensus[];
  readonly censusesLeftOut: number;
}

/**
 * Reads `log`. Null where the file carries none.
 * @throws Malformed
 */
export function readLog({ log }: ReadExtras): ReadLog | null {
  if (log === null) return null;
  const members = Members.of(log, '/log');
  return {
    origin: members.text('origin'),
    checkpoint: members.text('checkpoint'),
    keys: members.each('keys', MOST.keys).map((key) => ({
      vkey: key.text('vkey'),
      since: key.text('since'),
      endorsement: key.textOrNull('endorsement'),
    })),
    inclusion: members.each('inclusion', MOST.inclusion).map(inclusionOf),
    consistency: members.each('consistency', MOST.consistency).map(consistencyOf),
    censuses: members.each('censuses', MOST.censuses).map(censusOf),
    censusesLeftOut: members.count('censusesLeftOut'),
  };
}

/** @throws Malformed */
export function consistencyOf(proof: Members): ReadConsistency {
  return { from: proof.count('from'), to: proof.count('to'), path: proof.hashes('path', MAX_PATH) };
}

function inclusionOf(proof: Members): ReadInclusion {
  return { ...ledgerPlaceOf(proof), index: proof.count('index'), path: proof.hashes('path', MAX_PATH) };
}

function censusOf(census: Members): ReadCensus {
  return {
    ...censusGroupOf(census),
    ledger: ledgerPlaceOf(census.members('ledger')),
    ledgerIndex: census.count('ledgerIndex'),
    ledgerPath: census.hashes('ledgerPath', MAX_PATH),
  };
}

/** @throws Malformed */
export function censusGroupOf(census: Members): ReadCensusGroup {
  const entry = census.members('entry');
  const data = entry.members('data');
  const group = census.members('group');
  return {
    entry: entry.values,
    data: {
      day: dayOf(data),
      size: data.count('size'),
      logRoot: data.hash('logRoot'),
      groups: data.count('groups'),
      ledgers: data.count('ledgers'),
      entries: data.count('entries'),
      root: data.hash('root'),
    },
    inclusion: inclusionOf(census.members('inclusion')),
    group: {
      group: group.text('group'),
      ledgers: group.count('ledgers'),
      entries: group.count('entries'),
      root: group.hash('root'),
    },
    groupIndex: census.count('groupIndex'),
    groupPath: census.hashes('groupPath', MAX_PATH),
  };
}

/** @throws Malformed */
export function ledgerPlaceOf(place: Members): LedgerPlace {
  const seq = place.count('seq');
  if (seq === 0) throw new Malformed(`${place.pointer}/seq`, 'is no number from 1 up');
  return { subject: place.text('subject'), seq, hash: place.hash('hash') };
}

function dayOf(data: Members): string {
  const day = data.text('day');
  if (!/^\d{4}-\d\d-\d\d$/.test(day)) throw data.malformed('day', 'is no day (YYYY-MM-DD)');
  return day;
}
