import { GENESIS_HASH } from '../../ledger/ports/seal.js';
import type { HashText } from './hash-text.js';
import { inspectEntries, type PlacedEntry } from './inspect-entries.js';
import type { ReadLedger } from './read-audit.js';
import { verifyChain } from './verify-chain.js';
import { foreignEntry, verifyOrder } from './verify-order.js';
import type { Finding, Say } from './verification-report.js';

/** What a ledger by itself came to. */
export interface CheckedLedger {
  readonly findings: readonly Finding[];
  /** Canonical form of each entry, in the order of the file; null where one has none. */
  readonly texts: readonly string[] | null;
}

/** Checks one ledger by itself: every entry, their order, their links and their end. One finding for one cause. */
export function verifyLedger(ledger: ReadLedger, hashText: HashText): CheckedLedger {
  const inspected = inspectEntries(ledger, hashText);
  const texts = inspected.flatMap(({ text }) => text ?? []);
  return {
    findings: isSound(inspected, ledger) ? [] : faultsOf(inspected, ledger),
    texts: texts.length === inspected.length ? texts : null,
  };
}

/** Nearly every ledger is, and nothing has to be searched for in it. */
function isSound(inspected: readonly PlacedEntry[], { count, headHash }: ReadLedger): boolean {
  if (inspected.length !== count || (inspected.at(-1)?.hash ?? GENESIS_HASH) !== headHash) return false;
  return inspected.every(({ fault, foreign, place, at, prevHash }) => {
    const before = at === 0 ? GENESIS_HASH : inspected[at - 1]?.hash;
    return fault === null && foreign === null && place === at + 1 && prevHash === before;
  });
}

function faultsOf(inspected: PlacedEntry[], ledger: ReadLedger): Finding[] {
  const say: Say = (seq, code, what) => ({ ledger: ledger.subject, seq, code, what });
  const { placed, findings: foreignLedger } = adoptForeignLedger(ledger, inspected, say);
  const { kept, findings: orderFindings } = verifyOrder(placed, ledger, say);
  const entryFindings = kept.flatMap((entry) => entryFinding(entry, say));
  const blamed = new Set(kept.filter((entry) => isBlamed(entry)).map((entry) => entry.place));
  const structural = [...orderFindings, ...verifyChain(kept, ledger, blamed, say)];
  return [...foreignLedger, ...withRenumbering(structural, kept, say), ...entryFindings].sort(
    (a, b) => (a.seq ?? Infinity) - (b.seq ?? Infinity),
  );
}

/** A ledger that belongs to another subject as a whole is one finding; its entries are then judged as they are. */
function adoptForeignLedger(ledger: ReadLedger, placed: PlacedEntry[], say: Say) {
  const other = placed[0]?.foreign ?? null;
  if (other === null || placed.some((entry) => entry.foreign !== other)) return { placed, findings: [] };
  const what = `The ledger of ${ledger.subject} holds the entries of ${other} instead.`;
  return {
    placed: placed.map((entry) => ({ ...entry, foreign: null })),
    findings: [say(null, 'ledger-foreign', what)],
  };
}

/** Whether the entry itself is at fault, so that a broken link beside it proves nothing more. */
function isBlamed(entry: PlacedEntry): boolean {
  return entry.foreign !== null || (entry.fault !== null && entry.fault.kind !== 'renumbered');
}

function entryFinding(entry: PlacedEntry, say: Say): Finding[] {
  const { place, fault, foreign } = entry;
  switch (fault?.kind) {
    case 'malformed':
      return [say(place, 'entry-malformed', `Entry ${place} is not an entry any more: ${fault.problem}.`)];
    case 'changed': {
      const whose = foreign === null ? '' : ` It now names ${foreign} as its subject.`;
      return [say(place, 'entry-changed', `Entry ${place} was changed: its content does not give its hash.${whose}`)];
    }
    case 'hash-changed': {
      const what = `Entry ${place} was changed: its "hash" was, while its content is what the chain vouches for.`;
      return [say(place, 'entry-changed', what)];
    }
    case 'renumbered':
    case undefined:
      return foreign === null ? [] : [foreignEntry(entry, say)];
  }
}

/** Renumbering either hides another fault, and is told with it, or is a fault of its own. */
function withRenumbering(structural: Finding[], kept: PlacedEntry[], say: Say): Finding[] {
  const renumbered = kept.flatMap((entry) =>
    entry.fault?.kind === 'renumbered' ? [{ place: entry.place, stated: entry.fault.stated }] : [],
  );
  const [first] = renumbered;
  if (first === undefined) return structural;
  const [hidden, ...others] = structural;
  if (hidden) {
    const what = `${hidden.what} Entries were renumbered to hide it, from entry ${first.place} on.`;
    return [{ ...hidden, what }, ...others];
  }
  return renumbered.flatMap(({ place, stated }, index) => {
    const before = renumbered[index - 1];
    const sameShift = (other: typeof first) => other.stated - other.place === stated - place;
    if (before?.place === place - 1 && sameShift(before)) return [];
    const after = renumbered[index + 1];
    const many = after?.place === place + 1 && sameShift(after) ? ', and those after it were renumbered alike' : '';
    const what = `Entry ${place} was changed: it now carries the number ${stated}${many}.`;
    return [say(place, 'entries-renumbered', what)];
  });
}
