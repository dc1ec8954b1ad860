import { GENESIS_HASH } from '../../ledger/ports/seal.js';
import type { PlacedEntry } from './inspect-entries.js';
import type { Finding, Say } from './verification-report.js';

/**
 * Follows the links from the first entry to the head. `kept` holds one entry per number, ascending; links beside an
 * entry that is `blamed` already, or beside a gap, say nothing new and are passed over.
 */
export function verifyChain(
  kept: PlacedEntry[],
  head: { count: number; headHash: string },
  blamed: ReadonlySet<number>,
  say: Say,
): Finding[] {
  const last = kept.at(-1)?.place ?? 0;
  const headIsLast = head.headHash === (kept.at(-1)?.hash ?? GENESIS_HASH);
  if (head.count > last && !headIsLast)
    return [...brokenLinks(kept, blamed, null, say), tailMissing(head.count, last, say)];
  // A list that is shorter by the entries found missing is the same fault told twice.
  const countFits = head.count === last || head.count === kept.length;
  if (!countFits && (headIsLast || blamed.has(last))) {
    const what = `The file states ${head.count} entries, but its chain has ${last} and ends at entry ${last}.`;
    return [...brokenLinks(kept, blamed, null, say), say(null, 'count-mismatch', what)];
  }
  return brokenLinks(kept, blamed, head.headHash, say);
}

function tailMissing(count: number, last: number, say: Say): Finding {
  const which = count === last + 1 ? `Entry ${count} is` : `Entries ${last + 1} to ${count} are`;
  return say(last + 1, 'tail-missing', `${which} missing at the end: the file states ${count} entries.`);
}

/** Each broken link is named by the number before it: 0 is the start of the ledger, the last number links to the head. */
function brokenLinks(kept: PlacedEntry[], blamed: ReadonlySet<number>, headHash: string | null, say: Say): Finding[] {
  const broken: number[] = [];
  kept.forEach((entry, index) => {
    const before = kept[index - 1];
    if (entry.place !== (before?.place ?? 0) + 1 || blamed.has(entry.place) || blamed.has(entry.place - 1)) return;
    if (entry.prevHash !== (before?.hash ?? GENESIS_HASH)) broken.push(entry.place - 1);
  });
  const last = kept.at(-1);
  const end = last?.place ?? 0;
  if (headHash !== null && !blamed.has(end) && headHash !== (last?.hash ?? GENESIS_HASH)) broken.push(end);
  const links = new Set(broken);
  return runs(broken).flatMap((run) => culprits(run).map((place) => accuse(place, links, end, kept, headHash, say)));
}

/** Splits ascending numbers into runs without gap. */
function runs(numbers: number[]): number[][] {
  const found: number[][] = [];
  for (const number of numbers) {
    const run = found.at(-1);
    if (run?.at(-1) === number - 1) run.push(number);
    else found.push([number]);
  }
  return found;
}

/**
 * The fewest entries that explain a run of broken links. One link alone blames the entry before it: its successor
 * vouches for another. Two links beside each other blame the entry between them, and so on.
 */
function culprits(run: number[]): number[] {
  const [first = 0] = run;
  const start = run.length % 2 === 1 && first > 0 ? first : first + 1;
  return Array.from({ length: Math.ceil(run.length / 2) }, (_, index) => start + 2 * index);
}

function accuse(
  place: number,
  broken: ReadonlySet<number>,
  end: number,
  kept: PlacedEntry[],
  headHash: string | null,
  say: Say,
): Finding {
  const forward = broken.has(place);
  const backward = broken.has(place - 1);
  if (end === 0) return say(null, 'head-mismatch', 'The ledger is empty, but headHash names a last entry.');
  if (place === end && forward && !backward) return say(end, 'head-mismatch', headMismatch(end, kept, headHash));
  const reasons = [
    backward &&
      (place === 1 ? 'it names a predecessor, which the first entry has not' : `it does not follow entry ${place - 1}`),
    forward && (place === end ? 'headHash names a different one' : `entry ${place + 1} vouches for a different one`),
  ].filter((reason) => reason !== false);
  return say(place, 'entry-replaced', `Entry ${place} was replaced or altered: ${reasons.join(', and ')}.`);
}

function headMismatch(end: number, kept: PlacedEntry[], headHash: string | null): string {
  const named = kept.find((entry) => entry.hash === headHash);
  if (named) return `headHash names entry ${named.place} as the last, but the file goes on to entry ${end}.`;
  return (
    `headHash does not name entry ${end}: the last entry was replaced or altered, entries after it were cut off, ` +
    'or headHash itself was changed.'
  );
}
