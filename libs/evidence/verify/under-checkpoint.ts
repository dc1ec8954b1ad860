import type { Checkpoint } from '../../ledger/log/notes/checkpoint.js';
import { canonicalJson } from '../canonical-json.js';
import type { Digests } from '../digests.js';
import type { ReadLedger } from './read-audit.js';
import type { ReadLog } from './read-log.js';
import { notShown, outcomeOf, together, type Finding, type Outcome } from './verification-report.js';
import { againstAnchors } from './verify-anchors.js';
import { anchorsInCensuses } from './verify-census.js';
import { anchorsInLog, type Anchor } from './verify-inclusion.js';

const PROOFS = 'proofs from the log lead to its checkpoint';
const CENSUSES = 'censuses that counted the unit are in the log';
const SAME_STORY = 'each ledger is the one that the log and the censuses have';
const NO_CENSUS = 'No census in the file counts this unit: one is taken each day, and a later export has it.';

/**
 * Follows the proofs of a file to its checkpoint, and holds its ledgers against what they prove.
 * @param ledgers the unit's first
 * @param found faults within the ledgers: what is found there already is not found a second time by its witnesses
 */
export function underCheckpoint(
  ledgers: readonly ReadLedger[],
  found: readonly Finding[],
  log: ReadLog,
  checkpoint: Checkpoint,
  { sha256 }: Digests,
): Outcome {
  const inLog = anchorsInLog(log, checkpoint, new Set(ledgers.map(({ subject }) => subject)), sha256);
  const [unit] = ledgers;
  const counted = anchorsInCensuses(log, checkpoint, unit?.subject ?? '', { sha256, canonical: canonicalJson });
  const faulty = new Set(found.map(({ ledger }) => ledger));
  const forks = ledgers.flatMap((ledger) => {
    if (faulty.has(ledger.subject)) return [];
    const own = inLog.anchors.get(ledger.subject);
    return againstAnchors(ledger, [...(own ? [own] : []), ...(ledger === unit ? counted.anchors : [])]);
  });
  return together([
    outcomeOf(PROOFS, inLog.findings),
    log.censuses.length === 0 ? notShown(CENSUSES, [NO_CENSUS]) : outcomeOf(CENSUSES, counted.findings),
    sameStory(ledgers, inLog.anchors, forks),
  ]);
}

/** Entries that are younger than the checkpoint are no fault; that the log does not vouch for them has to be said. */
function sameStory(
  ledgers: readonly ReadLedger[],
  anchors: ReadonlyMap<string, Anchor>,
  forks: readonly Finding[],
): Outcome {
  const notes = ledgers.flatMap((ledger) => youngerNote(ledger, anchors.get(ledger.subject)?.seq ?? 0));
  const unseen = ledgers.some(({ subject, entries }) => entries.length > 0 && !anchors.has(subject));
  return unseen && forks.length === 0 ? notShown(SAME_STORY, notes) : outcomeOf(SAME_STORY, forks, notes);
}

function youngerNote({ subject, entries }: ReadLedger, seq: number): string[] {
  const last = entries.length;
  if (seq >= last) return [];
  if (seq === 0) return [`The file proves no entry of ${subject} to be in the log: its chain alone vouches for it.`];
  const which = seq + 1 === last ? `Entry ${last} of ${subject} is` : `Entries ${seq + 1} to ${last} of ${subject} are`;
  return [`${which} younger than the checkpoint: the chain holds, and the log does not vouch for that part yet.`];
}
