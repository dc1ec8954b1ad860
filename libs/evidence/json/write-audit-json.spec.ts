import { generateKeyPairSync, sign } from 'node:crypto';
import { text } from 'node:stream/consumers';
import { Readable } from 'node:stream';
import fc from 'fast-check';
import { compactVerify } from 'jose';
import { AuditSource } from '../../ledger/audits/audit-source.js';
import { BrokenLedger } from '../../ledger/audits/broken-ledger.js';
import { AUDIT_PAGE, openLedger } from '../../ledger/audits/open-ledger.js';
import { canonicalJson } from '../canonical-json.js';
import { sha256Hex } from '../seal.js';
import { sampleLedger, sampleSource, stationEntry } from '../spec-support/sample-source.js';
import { writeAuditJson } from './write-audit-json.js';

const SUBJECT = 'DEMO-100/SN-1';

function textOf(source: AuditSource): Promise<string> {
  return text(Readable.from(writeAuditJson(source, null)));
}

/** The text without what comes after the part that the seal is over. */
function withoutSeal(file: string): string {
  return `${file.slice(0, file.lastIndexOf(',"seal":'))}}`;
}

const said = fc.jsonValue({ maxDepth: 3, stringUnit: 'grapheme', noUnicodeString: false });
const ledgerOf = (subject: string) =>
  fc.array(fc.record({ data: said, effects: fc.array(said, { maxLength: 3 }) }), { maxLength: 12 }).map((all) =>
    sampleLedger(
      subject,
      all.map((over, index) => stationEntry(index, over)),
    ),
  );

describe('writeAuditJson', () => {
  it('writes what a document built whole and sealed would say, in canonical form, for any ledgers', async () => {
    const devices = fc.array(ledgerOf('devices/D-1'), { maxLength: 2 });
    const words = fc.array(fc.string({ unit: 'grapheme' }), { maxLength: 3 });
    await fc.assert(
      fc.asyncProperty(ledgerOf(SUBJECT), devices, words, async (own, others, leftOut) => {
        const audience = { for: 'customer', leftOut } as const;
        const named = others.map(({ ledger }, index) => [`D-${String(index)}`, ledger] as const);
        const source = sampleSource(own.ledger, named, { audience });
        const file = await textOf(source);
        const whole = {
          ...{ format: 'heatbook-audit', version: 2, subject: SUBJECT, assembly: 'DEMO-100', serial: 'SN-1' },
          ...{ exportedAt: source.exportedAt, audience, unit: source.unit, holds: [], configuration: [] },
          ...{ traces: [], people: [], log: null },
          ...{ entries: own.entries, count: own.entries.length, headHash: own.ledger.headHash },
          devices: others.map(({ entries, ledger: { headHash } }, index) => {
            return { device: `D-${String(index)}`, entries, count: entries.length, headHash };
          }),
        };
        expect(withoutSeal(file)).toBe(canonicalJson(whole));
        expect(JSON.parse(file)).toMatchObject({ seal: sha256Hex(canonicalJson(whole)), statement: null });
      }),
      { numRuns: 100 },
    );
  });

  it('has a statement that another library accepts under the key that it names', async () => {
    const { publicKey, privateKey } = generateKeyPairSync('ed25519');
    const signer = { vkey: 'sample+0badc0de+AAAA', sign: (message: Uint8Array) => sign(null, message, privateKey) };
    const { ledger } = sampleLedger(SUBJECT, [stationEntry(1), stationEntry(2)]);
    const file = await text(Readable.from(writeAuditJson(sampleSource(ledger), signer)));
    const { seal, statement } = JSON.parse(file) as { seal: string; statement: string };
    const { payload, protectedHeader } = await compactVerify(statement, publicKey);
    expect(protectedHeader).toEqual({ alg: 'EdDSA', kid: signer.vkey });
    expect(JSON.parse(new TextDecoder().decode(payload))).toEqual({
      ...{ format: 'heatbook-audit-statement', version: 1, subject: SUBJECT, count: 2 },
      ...{ headHash: ledger.headHash, exportedAt: '2030-01-08T10:00:00.000Z', seal },
    });
  });

  it('reads a page, writes it, and only then reads the next one', async () => {
    const own = sampleLedger(
      SUBJECT,
      Array.from({ length: 10 * AUDIT_PAGE }, (_, index) => stationEntry(index)),
    );
    let written = 0;
    for await (const chunk of writeAuditJson(sampleSource(own.ledger), null)) {
      written += Buffer.from(chunk).toString('utf8').split('"prevHash":').length - 1;
      const entriesOfAChunk = (64 * 1024) / 300;
      expect(own.pages.length * AUDIT_PAGE - written).toBeLessThan(AUDIT_PAGE + entriesOfAChunk);
    }
    expect(written).toBe(own.entries.length);
  });

  it('throws where the ledger turns out shorter than its head, and has given no seal by then', async () => {
    const own = sampleLedger(SUBJECT, [stationEntry(1), stationEntry(2)]);
    const short = openLedger(
      { ledgerBytes: (_key, { afterSeq }) => Promise.resolve(own.stored.slice(afterSeq ?? 0, 1)) },
      { key: SUBJECT, headSeq: 2, headHash: own.ledger.headHash },
    );
    let given = '';
    const drain = async (): Promise<void> => {
      for await (const chunk of writeAuditJson(sampleSource(short), null)) given += new TextDecoder().decode(chunk);
    };
    await expect(drain()).rejects.toThrow(BrokenLedger);
    expect(given).not.toContain('"seal":');
  });
});
