import { findJsonTextIssues } from './json-text.js';
import type { ReadLedger } from './read-audit.js';
import { asRecord } from './read-members.js';
import { placeOf, type Finding } from './verification-report.js';

/**
 * Says of keys given twice and of numbers that change in reading which entry they stand in; one finding for an entry.
 * The ledgers are the ones read from the same text, the unit's first.
 */
export function findingsInText(json: string, ledgers: readonly ReadLedger[]): Finding[] {
  const findings = findJsonTextIssues(json).map((issue): Finding => {
    const { ledger, seq } = locate(issue.path, ledgers);
    const pointer = issue.path.map((step) => `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
    const where = seq === null ? 'The file' : `Entry ${seq}`;
    const what =
      issue.kind === 'duplicate-key'
        ? `${where} gives "${issue.token}" twice (at ${pointer}), so that two readers can see two values.`
        : `${where} holds the number ${issue.token} (at ${pointer}), which cannot be read exactly.`;
    return { ledger, seq, code: issue.kind, what };
  });
  const seen = new Set<string>();
  return findings.filter((finding) => {
    const place = placeOf(finding);
    if (finding.seq !== null && seen.has(place)) return false;
    seen.add(place);
    return true;
  });
}

function locate(
  path: (string | number)[],
  [unit, ...devices]: readonly ReadLedger[],
): { ledger: string | null; seq: number | null } {
  const inDevice = path[0] === 'devices' && typeof path[1] === 'number';
  const ledger = inDevice ? devices[Number(path[1])] : unit;
  const [list, index] = inDevice ? path.slice(2) : path;
  if (list !== 'entries' || typeof index !== 'number')
    return { ledger: inDevice ? (ledger?.subject ?? null) : null, seq: null };
  const seq = asRecord(ledger?.entries[index])?.seq;
  return { ledger: ledger?.subject ?? null, seq: typeof seq === 'number' ? seq : index + 1 };
}
