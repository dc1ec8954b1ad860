import type { ReadLedger } from './read-audit.js';
import { asRecord } from './read-members.js';
import type { Finding } from './verification-report.js';
import type { Anchor } from './verify-inclusion.js';

/**
 * Holds a ledger against what is known of it elsewhere. The chain vouches for everything before an entry that agrees, so a
 * story that was told anew is placed between the last that agrees and the first that does not.
 * @returns one finding at most
 */
export function againstAnchors({ subject, entries }: ReadLedger, anchors: readonly Anchor[]): Finding[] {
  let agreed = 0;
  for (const { seq, hash, witness } of [...anchors].sort((a, b) => a.seq - b.seq)) {
    const entry = asRecord(entries[seq - 1]);
    if (entry?.hash === hash) {
      agreed = seq;
      continue;
    }
    const cut = seq > entries.length;
    const first = cut ? entries.length + 1 : agreed + 1;
    const which = first === seq ? `Entry ${seq}` : `Entries ${first} to ${seq}`;
    const what = cut
      ? `${which} of ${subject} ${first === seq ? 'was' : 'were'} cut off: ${witness} has entry ${seq}, the file ends with ${entries.length}.`
      : `${which} of ${subject} ${first === seq ? 'is' : 'are'} not what was told before: ${witness} has another entry ${seq}.`;
    return [{ ledger: subject, seq: first, code: cut ? 'log-ahead' : 'story-forked', what }];
  }
  return [];
}
