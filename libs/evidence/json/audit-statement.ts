import { LogSigner } from '../../ledger/log/log-signer.js';
import { canonicalJson } from '../canonical-json.js';
import { signJws } from '../log/jws.js';

const STATEMENT_FORMAT = 'heatbook-audit-statement';
const STATEMENT_VERSION = 1;

/** What a house says of an export that it has signed. */
export interface AuditStatement {
  readonly subject: string;
  readonly count: number;
  readonly headHash: string;
  readonly exportedAt: string;
  readonly seal: string;
}

/** The statement as a compact JWS (RFC 7515) over its canonical form; `kid` is the verifier key. */
export function signStatement(statement: AuditStatement, signer: LogSigner): string {
  const payload = canonicalJson({ format: STATEMENT_FORMAT, version: STATEMENT_VERSION, ...statement });
  return signJws(new TextEncoder().encode(payload), signer.vkey, (message) => signer.sign(message));
}
