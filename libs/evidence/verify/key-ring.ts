import { checkNote } from '../../ledger/log/notes/check-note.js';
import { parseVerifierKey, type VerifierKey } from '../../ledger/log/notes/verifier-key.js';
import type { Digests } from '../digests.js';
import type { ReadLog } from './read-log.js';
import { ofTheFile, type Finding } from './verification-report.js';

/** The keys of a file, and which of them may sign for the house. */
export interface KeyRing {
  /** Every key that can be read, the reader's own among them. */
  readonly all: readonly VerifierKey[];
  /** Without a key of the reader's own: all. With one: that, and those that it leads to from endorsement to endorsement. */
  readonly trusted: readonly VerifierKey[];
  /** Why the others are not, as the end of a sentence. */
  readonly gap: string;
  readonly findings: readonly Finding[];
  readonly notes: readonly string[];
}

/** Oldest first. */
export type KeyList = Pick<ReadLog, 'origin' | 'keys'>;

interface Link {
  readonly vkey: string;
  readonly since: string;
  readonly key: VerifierKey;
  /** By the key before it: vouched for, not vouched for, or wrongly so. */
  readonly endorsed: 'yes' | 'no' | 'wrong';
}

/**
 * Follows the endorsements from key to key: each is a signed note by the key before it, which names the log and the key.
 * @param own verifier key that the reader has by another way; one that cannot be read is a finding
 */
export async function keyRing(log: KeyList, own: string | undefined, digests: Digests): Promise<KeyRing> {
  const { links, findings } = await linksOf(log, digests);
  const listed = links.map(({ key }) => key);
  const notes = links.flatMap(({ since, endorsed }, index) =>
    index > 0 && endorsed === 'no'
      ? [
          `The key in use since ${since} is not endorsed by the one before it: the house has to say why, and show the key.`,
        ]
      : [],
  );
  if (own === undefined)
    return { all: listed, trusted: listed, gap: 'it is not among the keys of the file', findings, notes };
  const mine = parseVerifierKey(own, digests.sha256);
  if (mine === undefined) {
    const what = 'The key that you gave is no verifier key ({name}+{8 hex digits}+{base64}): copy it whole.';
    return {
      all: listed,
      trusted: [],
      gap: 'the one that you gave cannot be read',
      findings: [ofTheFile('key-malformed', what)],
      notes,
    };
  }
  const from = links.findIndex(({ vkey }) => vkey === own);
  if (from < 0)
    return {
      all: [...listed, mine],
      trusted: [mine],
      gap: 'the file does not know the key that you gave',
      findings,
      notes,
    };
  const broken = links.findIndex(({ endorsed }, index) => index > from && endorsed !== 'yes');
  const end = broken < 0 ? links.length : broken;
  const gap =
    broken < 0
      ? 'it is older than the key that you gave, which does not vouch for it'
      : `from the key that you gave no endorsement leads to the one in use since ${links[end]?.since ?? ''}`;
  return { all: listed, trusted: listed.slice(from, end), gap, findings, notes };
}

async function linksOf({ origin, keys }: KeyList, digests: Digests): Promise<{ links: Link[]; findings: Finding[] }> {
  const links: Link[] = [];
  const findings: Finding[] = [];
  for (const [index, { vkey, since, endorsement }] of keys.entries()) {
    const key = parseVerifierKey(vkey, digests.sha256);
    if (key === undefined) {
      findings.push(
        ofTheFile('key-malformed', `The key in use since ${since} (/log/keys/${index}) is no verifier key.`),
      );
      continue;
    }
    const endorsed =
      endorsement === null ? 'no' : await endorsedBy(links.at(-1)?.key, keyNote(origin, vkey), endorsement, digests);
    if (endorsed === 'wrong') {
      const what = `The endorsement of the key in use since ${since} (/log/keys/${index}) is not by the key before it.`;
      findings.push(ofTheFile('endorsement-broken', what));
    }
    links.push({ vkey, since, key, endorsed });
  }
  return { links, findings };
}

async function endorsedBy(
  before: VerifierKey | undefined,
  wanted: string,
  endorsement: string,
  digests: Digests,
): Promise<Link['endorsed']> {
  // The list may begin with a key that was endorsed by one from before it.
  if (before === undefined) return 'no';
  const note = await checkNote(endorsement, [before], digests.verifyEd25519);
  return note?.text === wanted ? 'yes' : 'wrong';
}

/** What the key before it signs to say that a key takes over. */
function keyNote(origin: string, vkey: string): string {
  return `heatbook key\n${origin}\n${vkey}\n`;
}
