import { GENESIS_HASH, type SealedEntry } from '../../ledger/ports/seal.js';
import { nodeDigests } from '../node-digests.js';
import {
  rehash,
  sampleAudit,
  sampleBody,
  sealAll,
  sealOfDocument,
  type AuditDocument1,
} from '../spec-support/sample-audit.js';
import type { VerificationReport } from './verification-report.js';
import { verifyAudit } from './verify-audit.js';

const UNIT = 'DEMO-100/SN-1';
const check = (text: string) => verifyAudit(text, nodeDigests);

/** Applies a forgery to the entries of a sound audit of ten entries and verifies the outcome. */
function afterForging(forge: (entries: SealedEntry[], document: AuditDocument1) => SealedEntry[]) {
  const document = sampleAudit(10);
  const entries = forge(document.entries, document);
  return check(JSON.stringify({ ...document, entries }));
}

function change(entries: SealedEntry[], seq: number, changes: Partial<SealedEntry>): SealedEntry {
  const entry = entries[seq - 1];
  if (entry === undefined) throw new Error(`no entry ${seq}`);
  return { ...entry, ...changes };
}

function found(report: VerificationReport) {
  return report.findings.map(({ ledger, seq, code }) => ({ ledger, seq, code }));
}

const forged = { refdes: 'U7', peakC: 199 };

describe('verifyAudit', () => {
  it('holds for a sound audit, and says what it cannot show', async () => {
    const report = await check(JSON.stringify(sampleAudit(10)));
    expect(report).toMatchObject({ holds: true, subject: UNIT, entries: 12, findings: [] });
    const open = report.checks.filter((check) => check.ok !== true);
    expect(open).toEqual([{ name: 'the checkpoint of the log is signed by the house', ok: null }]);
    expect(report.notes).toEqual([expect.stringContaining('signed by nobody')]);
    expect(report.limits).toContain('rewritten');
  });

  it('holds for an audit without entries, with a byte order mark, indented', async () => {
    expect(await check(`\uFEFF${JSON.stringify(sampleAudit(0), null, 4)}\n`)).toMatchObject({ holds: true });
  });

  it('finds a changed value', async () => {
    const report = await afterForging((entries) => entries.with(6, change(entries, 7, { data: forged })));
    expect(found(report)).toEqual([{ ledger: UNIT, seq: 7, code: 'entry-changed' }]);
    expect(report.findings[0]?.what).toContain('Entry 7 was changed');
    expect(report.checks.filter((check) => check.ok === false).map((check) => check.name)).toEqual([
      `${UNIT}: every entry gives its hash`,
      'the seal of the file matches its content',
    ]);
  });

  it.each([1, 7, 10])('finds a value of entry %i changed and hashed anew', async (seq) => {
    const report = await afterForging((entries) =>
      entries.with(seq - 1, rehash(change(entries, seq, { data: forged }))),
    );
    expect(found(report)).toEqual([{ ledger: UNIT, seq, code: seq === 10 ? 'head-mismatch' : 'entry-replaced' }]);
  });

  it('says which entry vouches against a replaced one', async () => {
    const report = await afterForging((entries) => entries.with(6, rehash(change(entries, 7, { data: forged }))));
    expect(report.findings[0]?.what).toBe('Entry 7 was replaced or altered: entry 8 vouches for a different one.');
  });

  it.each([
    ['prevHash', { prevHash: 'a'.repeat(64) }, 'entry-changed'],
    ['hash', { hash: 'a'.repeat(64) }, 'entry-changed'],
    ['seq', { seq: 70 }, 'entries-renumbered'],
    ['seq, to one that is there', { seq: 3 }, 'entries-renumbered'],
    ['seq and more', { seq: 3, data: forged }, 'entry-changed'],
    ['subject', { subject: 'DEMO-100/SN-2' }, 'entry-changed'],
    ['hash, to no hash', { hash: 'x' }, 'entry-malformed'],
  ])('finds a changed %s of entry 7, and nothing else', async (_name, changes, code) => {
    const report = await afterForging((entries) => entries.with(6, change(entries, 7, changes)));
    expect(found(report)).toEqual([{ ledger: UNIT, seq: 7, code }]);
  });

  it('finds an entry that follows no other and is hashed anew', async () => {
    const prevHash = 'b'.repeat(64);
    const report = await afterForging((entries) => entries.with(6, rehash(change(entries, 7, { prevHash }))));
    expect(found(report)).toEqual([{ ledger: UNIT, seq: 7, code: 'entry-replaced' }]);
  });

  it.each([1, 5, 9])('finds entry %i missing', async (seq) => {
    const report = await afterForging((entries) => entries.filter((entry) => entry.seq !== seq));
    expect(found(report)).toEqual([{ ledger: UNIT, seq, code: 'entry-missing' }]);
  });

  it('finds a missing entry though count was made to fit and the others were renumbered', async () => {
    const report = await afterForging((entries, document) => {
      document.count = 9;
      return entries.filter(({ seq }) => seq !== 5).map((entry, index) => ({ ...entry, seq: index + 1 }));
    });
    expect(found(report)).toEqual([{ ledger: UNIT, seq: 5, code: 'entry-missing' }]);
    expect(report.findings[0]?.what).toContain('renumbered to hide it, from entry 6 on');
  });

  it('finds three missing entries as one gap', async () => {
    const report = await afterForging((entries) => entries.filter(({ seq }) => seq < 4 || seq > 6));
    expect(found(report)).toEqual([{ ledger: UNIT, seq: 4, code: 'entry-missing' }]);
    expect(report.findings[0]?.what).toBe('Entries 4 to 6 are missing: entry 3 is followed by entry 7.');
  });

  it.each([
    ['a copy', (entries: SealedEntry[]) => change(entries, 5, {})],
    ['an altered copy', (entries: SealedEntry[]) => change(entries, 5, { data: forged })],
    ['an altered copy, hashed anew', (entries: SealedEntry[]) => rehash(change(entries, 5, { data: forged }))],
  ])('finds %s of an entry added', async (_name, make) => {
    const report = await afterForging((entries) => entries.toSpliced(4, 0, make(entries)));
    expect(found(report)).toEqual([{ ledger: UNIT, seq: 5, code: 'entry-added' }]);
  });

  it('finds an entry inserted though all after it were renumbered', async () => {
    const report = await afterForging((entries) => {
      const inserted = rehash(change(entries, 5, { data: forged }));
      return entries.toSpliced(4, 0, inserted).map((entry, index) => ({ ...entry, seq: index + 1 }));
    });
    expect(found(report)).toEqual([{ ledger: UNIT, seq: 5, code: 'entry-added' }]);
  });

  it('finds an entry added after the last', async () => {
    const report = await afterForging((entries, { headHash }) => [
      ...entries,
      rehash(change(entries, 10, { seq: 11, prevHash: headHash })),
    ]);
    expect(found(report)).toEqual([{ ledger: UNIT, seq: 11, code: 'entry-added' }]);
  });

  it('says which two entries are swapped, whether or not their numbers were exchanged too', async () => {
    const plain = await afterForging((entries) =>
      entries.with(2, change(entries, 6, {})).with(5, change(entries, 3, {})),
    );
    const hidden = await afterForging((entries) =>
      entries.with(2, change(entries, 6, { seq: 3 })).with(5, change(entries, 3, { seq: 6 })),
    );
    for (const report of [plain, hidden]) {
      expect(found(report)).toEqual([{ ledger: UNIT, seq: 3, code: 'entries-swapped' }]);
      expect(report.findings[0]?.what).toContain('Entries 3 and 6 are swapped');
    }
  });

  it('finds both of two swapped entries that were renumbered and hashed anew', async () => {
    const report = await afterForging((entries) =>
      entries.with(2, rehash(change(entries, 6, { seq: 3 }))).with(5, rehash(change(entries, 3, { seq: 6 }))),
    );
    expect(found(report)).toEqual([
      { ledger: UNIT, seq: 3, code: 'entry-replaced' },
      { ledger: UNIT, seq: 6, code: 'entry-replaced' },
    ]);
  });

  it('finds one entry out of its place, and a wholly shuffled list', async () => {
    const moved = await afterForging((entries) => entries.toSpliced(7, 1).toSpliced(1, 0, change(entries, 8, {})));
    expect(found(moved)).toEqual([{ ledger: UNIT, seq: 8, code: 'entry-moved' }]);
    expect(found(await afterForging((entries) => entries.toReversed()))).toEqual([
      { ledger: UNIT, seq: 1, code: 'entries-out-of-order' },
    ]);
  });

  it('finds a dropped tail by count, and by headHash where count was made to fit', async () => {
    expect(found(await afterForging((entries) => entries.slice(0, 8)))).toEqual([
      { ledger: UNIT, seq: 9, code: 'tail-missing' },
    ]);
    expect(found(await afterForging(() => []))).toEqual([{ ledger: UNIT, seq: 1, code: 'tail-missing' }]);
    const fitted = await afterForging((entries, document) => {
      document.count = 8;
      return entries.slice(0, 8);
    });
    expect(found(fitted)).toEqual([{ ledger: UNIT, seq: 8, code: 'head-mismatch' }]);
  });

  it('finds a count or a headHash that was changed by itself', async () => {
    const count = await afterForging((entries, document) => {
      document.count = 11;
      return entries;
    });
    expect(found(count)).toEqual([{ ledger: UNIT, seq: null, code: 'count-mismatch' }]);
    const head = await afterForging((entries, document) => {
      document.headHash = GENESIS_HASH;
      return entries;
    });
    expect(found(head)).toEqual([{ ledger: UNIT, seq: 10, code: 'head-mismatch' }]);
  });

  it('finds an entry and a whole ledger of another subject', async () => {
    const other = sealAll(Array.from({ length: 10 }, (_, index) => sampleBody('DEMO-100/SN-2', index + 1)));
    const one = await afterForging((entries) => entries.with(6, other.entries[6] ?? change(entries, 7, {})));
    expect(found(one)).toEqual([{ ledger: UNIT, seq: 7, code: 'entry-foreign' }]);
    expect(one.findings[0]?.what).toContain('DEMO-100/SN-2');
    const all = await afterForging((_entries, document) => Object.assign(document, other).entries);
    expect(found(all)).toEqual([{ ledger: UNIT, seq: null, code: 'ledger-foreign' }]);
  });

  it('names each of several faults', async () => {
    const report = await afterForging((entries) =>
      entries.with(2, change(entries, 3, { data: forged })).filter(({ seq }) => seq !== 7),
    );
    expect(found(report)).toEqual([
      { ledger: UNIT, seq: 3, code: 'entry-changed' },
      { ledger: UNIT, seq: 7, code: 'entry-missing' },
    ]);
  });

  it('finds a fault in the ledger of a device', async () => {
    const document = sampleAudit(3);
    const [device] = document.devices;
    device?.entries.reverse();
    expect(found(await check(JSON.stringify(document)))).toEqual([
      { ledger: 'devices/D-1', seq: 1, code: 'entries-swapped' },
    ]);
    const twice = { ...sampleAudit(3), devices: [...sampleAudit(3).devices, ...sampleAudit(3).devices] };
    expect(found(await check(JSON.stringify(twice)))).toEqual([
      { ledger: 'devices/D-1', seq: null, code: 'device-twice' },
    ]);
  });

  it.each(['unit', 'configuration', 'exportedAt', 'seal'])(
    'finds a changed %s by the seal of the file',
    async (name) => {
      const report = await check(JSON.stringify({ ...sampleAudit(3), [name]: 'other' }));
      expect(found(report)).toEqual([{ ledger: null, seq: null, code: 'document-changed' }]);
    },
  );

  it('finds a missing seal, and a subject that its own names contradict', async () => {
    expect(found(await check(JSON.stringify({ ...sampleAudit(3), seal: undefined })))[0]?.code).toBe('seal-missing');
    for (const changes of [{ serial: 'SN-2' }, { subject: 'DEMO-100/SN-2' }]) {
      const report = await check(JSON.stringify({ ...sampleAudit(3), ...changes }));
      expect(found(report)).toEqual([{ ledger: null, seq: null, code: 'subject-mismatch' }]);
    }
  });

  it('finds a key given twice, whichever value comes first', async () => {
    const text = JSON.stringify(sampleAudit(10));
    for (const both of ['"peakC":1,"peakC":207', '"peakC":207,"peak\\u0043":1']) {
      const report = await check(text.replace('"peakC":207', both));
      expect(found(report)).toEqual([{ ledger: UNIT, seq: 7, code: 'duplicate-key' }]);
      expect(report.findings[0]?.what).toContain('/entries/6/data/peakC');
    }
    const top = await check(text.replace('{', '{"unit":{"state":"shipped"},'));
    expect(found(top)).toEqual([{ ledger: null, seq: null, code: 'duplicate-key' }]);
  });

  it('finds a number that cannot be read exactly', async () => {
    const text = JSON.stringify(sampleAudit(10, [{ peakC: 9007199254740992 }]));
    const report = await check(text.replace('9007199254740992', '9007199254740993'));
    expect(found(report)).toEqual([{ ledger: UNIT, seq: 1, code: 'unsafe-number' }]);
  });

  it('finds a text that has no canonical form', async () => {
    const report = await check(JSON.stringify(sampleAudit(3)).replace('evt-2', '\\ud800'));
    expect(found(report)).toEqual([{ ledger: UNIT, seq: 2, code: 'entry-malformed' }]);
  });

  it.each([
    ['nothing at all', '', 'file-cut'],
    ['a file cut off', JSON.stringify(sampleAudit(3)).slice(0, -1), 'file-cut'],
    ['no JSON', 'serial,peakC', 'not-json'],
    ['other JSON', '[1]', 'not-an-audit'],
    ['a later version', JSON.stringify({ ...sampleAudit(3), version: 3 }), 'unknown-version'],
    ['a missing list', JSON.stringify({ ...sampleAudit(3), entries: undefined }), 'header-malformed'],
    ['a device that is none', JSON.stringify({ ...sampleAudit(3), devices: [1] }), 'header-malformed'],
  ])('does not judge %s', async (_name, text, code) => {
    const report = await check(text);
    expect(report).toMatchObject({ holds: false, subject: null, entries: 0 });
    expect(found(report)).toEqual([{ ledger: null, seq: null, code }]);
  });

  it('answers even to nesting that no reader should meet', async () => {
    const deep = '['.repeat(100_000) + ']'.repeat(100_000);
    const text = JSON.stringify(sampleAudit(3)).replace('"unit":{', `"unit":{"deep":${deep},`);
    expect(found(await check(text))).toEqual([{ ledger: null, seq: null, code: 'document-changed' }]);
  });

  it('cannot tell a file that was rewritten as a whole, which is why it says so', async () => {
    const document = sampleAudit(10);
    const rewritten = { ...document, ...sealAll([sampleBody(UNIT, 1, forged)]) };
    expect(await check(JSON.stringify({ ...rewritten, seal: sealOfDocument(rewritten) }))).toMatchObject({
      holds: true,
    });
  });
});
