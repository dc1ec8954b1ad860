import type { PlacedEntry } from './inspect-entries.js';
import type { Finding, Say } from './verification-report.js';

/** Entries one per number, ascending, and what stood in their way. */
export interface OrderedEntries {
  kept: PlacedEntry[];
  findings: Finding[];
}

/**
 * Picks the entry that belongs to each number and reports the others as added; then reports what stands in the wrong
 * order and which numbers are missing between the first and the last.
 */
export function verifyOrder(
  placed: PlacedEntry[],
  head: { count: number; headHash: string },
  say: Say,
): OrderedEntries {
  const unique = onePerPlace(placed, head.headHash, say);
  const end = unique.kept.find((entry) => entry.hash === head.headHash && entry.place === head.count);
  const isAfter = (entry: PlacedEntry) => end !== undefined && entry.place > end.place;
  const after = unique.kept.filter(isAfter);
  const kept = unique.kept.filter((entry) => !isAfter(entry));
  return {
    kept,
    findings: [
      ...unique.findings,
      ...after.map((entry) => addedAfter(entry, head.count, say)),
      ...misplaced(kept, say),
      ...gaps(kept, say),
    ],
  };
}

function onePerPlace(placed: PlacedEntry[], headHash: string, say: Say): OrderedEntries {
  const hashes = new Set(placed.map((entry) => entry.hash));
  const vouched = new Set([...placed.map((entry) => entry.prevHash), headHash]);
  const merit = (entry: PlacedEntry) =>
    (entry.fault === null || entry.fault.kind === 'renumbered' ? 8 : 0) +
    (entry.foreign === null ? 4 : 0) +
    (vouched.has(entry.hash) ? 2 : 0) +
    (hashes.has(entry.prevHash) ? 1 : 0);
  const byPlace = new Map<number, PlacedEntry[]>();
  for (const entry of placed) {
    const rivals = byPlace.get(entry.place);
    if (rivals) rivals.push(entry);
    else byPlace.set(entry.place, [entry]);
  }
  const kept: PlacedEntry[] = [];
  const findings: Finding[] = [];
  for (const rivals of byPlace.values()) {
    const [best, ...others] = rivals.sort((a, b) => merit(b) - merit(a) || a.at - b.at);
    if (best) kept.push(best);
    for (const other of others) findings.push(added(other, best, say));
  }
  return { kept: kept.sort((a, b) => a.place - b.place), findings };
}

function added(entry: PlacedEntry, genuine: PlacedEntry | undefined, say: Say): Finding {
  const { place } = entry;
  if (entry.foreign !== null) return foreignEntry(entry, say);
  if (entry.fault === null && entry.hash === genuine?.hash) {
    return say(place, 'entry-added', `Entry ${place} stands in the file a second time.`);
  }
  return say(place, 'entry-added', `A second entry ${place} was added; the chain vouches for the other one.`);
}

function addedAfter(entry: PlacedEntry, last: number, say: Say): Finding {
  if (entry.foreign !== null) return foreignEntry(entry, say);
  const { place } = entry;
  return say(place, 'entry-added', `Entry ${place} was added: count and headHash name entry ${last} as the last.`);
}

/** An entry that was sealed for another ledger. */
export function foreignEntry(entry: PlacedEntry, say: Say): Finding {
  const { place, foreign } = entry;
  return say(place, 'entry-foreign', `Entry ${place} does not belong here: it is an entry of ${foreign ?? 'nobody'}.`);
}

function misplaced(kept: PlacedEntry[], say: Say): Finding[] {
  const found = [...kept].sort((a, b) => a.at - b.at).map((entry) => entry.place);
  const wanted = kept.map((entry) => entry.place);
  const wrong = wanted.flatMap((place, index) => (found[index] === place ? [] : [index]));
  const first = wrong[0];
  const last = wrong.at(-1);
  if (first === undefined || last === undefined) return [];
  const [low = 0, high = 0] = [wanted[first], wanted[last]];
  if (wrong.length === 2) {
    return [
      say(low, 'entries-swapped', `Entries ${low} and ${high} are swapped: each stands in the place of the other.`),
    ];
  }
  const moved = [low, high].find((place) => sameWithout(place, found, wanted));
  if (moved !== undefined) return [say(moved, 'entry-moved', `Entry ${moved} does not stand in its place.`)];
  return [say(low, 'entries-out-of-order', `The entries from ${low} to ${high} do not stand in order.`)];
}

function sameWithout(place: number, found: number[], wanted: number[]): boolean {
  const rest = wanted.filter((other) => other !== place);
  return found.filter((other) => other !== place).every((other, index) => other === rest[index]);
}

function gaps(kept: PlacedEntry[], say: Say): Finding[] {
  return kept.flatMap(({ place }, index) => {
    const before = kept[index - 1]?.place ?? 0;
    if (place === before + 1) return [];
    const which = place === before + 2 ? `Entry ${before + 1} is` : `Entries ${before + 1} to ${place - 1} are`;
    const where =
      before === 0 ? `the file begins with entry ${place}` : `entry ${before} is followed by entry ${place}`;
    return [say(before + 1, 'entry-missing', `${which} missing: ${where}.`)];
  });
}
