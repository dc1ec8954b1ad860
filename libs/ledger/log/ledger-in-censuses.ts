import { StreamKey } from '../../domain/subject/subject.js';
import { LogLeaf, LogStore } from '../ports/log-store.js';
import { CensusData } from './log-evidence.js';
import { SiteLogDeps } from './site-log-deps.js';
import { censuses } from './take-census.js';

/** A census by the entry that tells of it. */
export interface CensusSeen {
  /** In the book's own ledger. */
  readonly seq: number;
  readonly data: CensusData;
}

const PAGE = 2000;

/** For each head that censuses saw of a ledger the first census that did, oldest first. */
export async function ledgerOfCensuses(
  siteLog: Pick<LogStore, 'ledgerLeaves'>,
  reads: SiteLogDeps['reads'],
  subject: StreamKey,
): Promise<readonly CensusSeen[]> {
  const seen: CensusSeen[] = [];
  const leaves = leavesOf(siteLog, subject)[Symbol.asyncIterator]();
  let next = await leaves.next();
  let [head, told] = [0, 0];
  for await (const { seq, data } of censuses(reads)) {
    while (next.done !== true && next.value.index < data.size) {
      head = next.value.seq;
      next = await leaves.next();
    }
    if (head > told) seen.push({ seq, data });
    told = head;
  }
  return seen;
}

async function* leavesOf(siteLog: Pick<LogStore, 'ledgerLeaves'>, subject: StreamKey): AsyncGenerator<LogLeaf, void> {
  for (let after = 0; ;) {
    const page = await siteLog.ledgerLeaves(subject, after, PAGE);
    yield* page;
    const last = page.at(-1);
    if (last === undefined || page.length < PAGE) return;
    after = last.seq;
  }
}
