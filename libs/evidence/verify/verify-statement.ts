import { sameBytes } from '../../ledger/log/merkle/hashing.js';
import { parseVerifierKey } from '../../ledger/log/notes/verifier-key.js';
import { canonicalJson } from '../canonical-json.js';
import type { Digests } from '../digests.js';
import { parseJws, type ParsedJws } from '../log/jws.js';
import type { KeyRing } from './key-ring.js';
import type { ReadAudit } from './read-audit.js';
import { asRecord } from './read-members.js';
import { notShown, ofTheFile, outcomeOf, type Finding, type Outcome } from './verification-report.js';

const CHECK = 'the house signed this file as it is';
const UNSIGNED =
  'The file carries no statement signed by the house: unit summary, holds and configuration are vouched for by nobody.';
/** What a statement says of the file; the names are those of the document. */
const STATED = ['subject', 'count', 'headHash', 'exportedAt', 'seal'] as const;

/** Checks the statement: a compact JWS (RFC 7515, EdDSA) over what the file is. */
export async function verifyStatement(audit: ReadAudit, ring: KeyRing, digests: Digests): Promise<Outcome> {
  const statement = audit.extras?.statement;
  if (statement === null || statement === undefined) return notShown(CHECK, [UNSIGNED]);
  const jws = typeof statement === 'string' ? parseJws(statement) : undefined;
  const payload = jws && payloadOf(jws);
  if (!jws || !payload) {
    return outcomeOf(CHECK, [
      ofTheFile('statement-malformed', 'The statement is no compact JWS with EdDSA over JSON.'),
    ]);
  }
  const findings = await signatureFindings('The statement', 'statement-forged', jws, ring, digests);
  // What somebody else signed says nothing about the file.
  return outcomeOf(CHECK, findings.length > 0 ? findings : differences(payload, audit));
}

function differences(payload: Readonly<Record<string, unknown>>, { document }: ReadAudit): Finding[] {
  if (payload.format !== 'heatbook-audit-statement' || payload.version !== 1) {
    return [ofTheFile('statement-malformed', 'What the house signed is no statement on an audit, version 1.')];
  }
  const differing = STATED.filter((name) => payload[name] !== document[name]);
  if (differing.length === 0) return [];
  const what = `The file is not the one that the house signed: the statement has another ${differing.join(', ')}.`;
  return [ofTheFile('statement-mismatch', what)];
}

/**
 * Checks by whom a JWS is signed.
 * @param what begins the sentences
 */
export async function signatureFindings(
  what: string,
  forged: 'statement-forged' | 'manifest-forged',
  { header, signingInput, signature }: ParsedJws,
  ring: KeyRing,
  digests: Digests,
): Promise<Finding[]> {
  const { kid = '' } = header;
  const key = parseVerifierKey(kid, digests.sha256);
  if (key === undefined) return [ofTheFile(forged, `${what} does not name the key that it is signed with ("kid").`)];
  if (!(await digests.verifyEd25519(key.publicKey, signingInput, signature))) {
    return [ofTheFile(forged, `${what} is not signed by the key that it names: it was changed, or the key was.`)];
  }
  const isSame = ({ name, publicKey }: typeof key) => name === key.name && sameBytes(publicKey, key.publicKey);
  if (ring.trusted.some(isSame)) return [];
  return [
    ofTheFile('key-untrusted', `${what} is signed with ${kid}, which is not known to be the house's: ${ring.gap}.`),
  ];
}

/** The payload, if it is JSON in canonical form, so that no two readers can take it differently. */
function payloadOf({ payload }: ParsedJws): Readonly<Record<string, unknown>> | undefined {
  try {
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(payload);
    const value = asRecord(JSON.parse(text));
    return value !== null && canonicalJson(value) === text ? value : undefined;
  } catch {
    return undefined;
  }
}
