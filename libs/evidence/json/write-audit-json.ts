import { createHash } from 'node:crypto';
import { AuditLedger, AuditSource } from '../../ledger/audits/audit-source.js';
import { LogSigner } from '../../ledger/log/log-signer.js';
import { canonicalJson } from '../canonical-json.js';
import { textChunks } from '../text-chunks.js';
import { signStatement } from './audit-statement.js';
import { entryText } from './entry-text.js';

const AUDIT_JSON_FORMAT = 'heatbook-audit';
const AUDIT_JSON_VERSION = 2;

/**
 * Writes an export as JSON, version 2; docs/audit-format.md says what each member means. Up to `seal`, which comes last with
 * `statement`, the text is the canonical form (RFC 8785) of what the seal is over, so that the seal's hash runs along.
 * @param signer signs the statement; null leaves it null
 * @throws while it is read, where a ledger does not hold together
 */
export async function* writeAuditJson(source: AuditSource, signer: LogSigner | null): AsyncGenerator<Uint8Array> {
  const hash = createHash('sha256');
  for await (const chunk of textChunks(sealedPart(source))) {
    hash.update(chunk);
    yield chunk;
  }
  const seal = hash.update('}').digest('hex');
  const { exportedAt } = source;
  const { subject, count, headHash } = source.ledger;
  const statement = signer && signStatement({ subject, count, headHash, exportedAt, seal }, signer);
  yield Buffer.from(`,"seal":${canonicalJson(seal)},"statement":${canonicalJson(statement)}}\n`, 'utf8');
}

/** The canonical text of the document without `seal` and `statement`, short of its closing brace. */
async function* sealedPart(source: AuditSource): AsyncGenerator<string> {
  const { ledger, assembly, serial, exportedAt, audience, unit, holds, configuration, traces, people, log } = source;
  const { subject, count, headHash } = ledger;
  const head = { format: AUDIT_JSON_FORMAT, version: AUDIT_JSON_VERSION, subject, assembly, serial, exportedAt };
  yield* inOrder({
    ...texts({ ...head, audience, unit, holds, configuration, traces, people, count, headHash, log }),
    entries: () => entriesOf(ledger),
    devices: () => devicesOf(source.devices),
  });
}

async function* devicesOf(devices: AuditSource['devices']): AsyncGenerator<string> {
  let before = '[';
  for (const ledger of devices) {
    const { device, count, headHash } = ledger;
    yield before;
    yield* inOrder({ ...texts({ device, count, headHash }), entries: () => entriesOf(ledger) });
    yield '}';
    before = ',';
  }
  yield devices.length === 0 ? '[]' : ']';
}

async function* entriesOf(ledger: AuditLedger): AsyncGenerator<string> {
  let before = '[';
  for await (const page of ledger.pages()) {
    yield before + page.map(entryText).join(',');
    before = ',';
  }
  yield ledger.count === 0 ? '[]' : ']';
}

type MemberText = () => Iterable<string> | AsyncIterable<string>;

function texts(values: object): Record<string, MemberText> {
  return Object.fromEntries(
    Object.entries(values).map(([name, value]) => [name, () => [canonicalJson(asJson(value))]]),
  );
}

/** An object with its members in canonical order, by UTF-16 code units, short of its closing brace. */
async function* inOrder(members: Record<string, MemberText>): AsyncGenerator<string> {
  let before = '{';
  for (const [name, text] of Object.entries(members).sort(([a], [b]) => (a < b ? -1 : 1))) {
    yield `${before}${canonicalJson(name)}:`;
    yield* text();
    before = ',';
  }
}

/** As a reader of JSON would have it: without members that are undefined, and null for a figure that is none. */
function asJson(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value));
}
