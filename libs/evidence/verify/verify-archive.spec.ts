import { nodeDigests } from '../node-digests.js';
import { rechain, sealOfDocument } from '../spec-support/sample-audit.js';
import {
  packed,
  sampleCensus,
  sampleFiles,
  sampleManifest,
  zipped,
  type ArchiveContent,
} from '../spec-support/sample-archive.js';
import { ArchiveBench, sampleTrace } from '../spec-support/archive-bench.js';
import { SampleHouse, sampleSigner, type AuditDocument2 } from '../spec-support/sample-house.js';
import { describeReport, verifyExitCode } from './describe-report.js';
import type { Kept } from './kept.js';
import { inMemory } from './random-access.js';
import { verifyFile } from './verify-file.js';

const ORIGIN = 'heatbook/sample';
const OURS = sampleSigner(1, ORIGIN);
const THEIRS = sampleSigner(3, ORIGIN);
const [ONE, TWO, THREE] = ['A-1/1', 'A-1/2', 'A-1/3'] as const;
const FILE = `units/${TWO}.audit.json`;

/** A house with three units of three entries, counted, and one more entry on each since. */
async function sampleHouse(): Promise<SampleHouse> {
  const house = new SampleHouse(OURS, ORIGIN);
  const writeRound = (n: number) => [ONE, TWO, THREE].map((subject) => house.write(subject, { data: { n } }));
  for (let n = 0; n < 3; n += 1) writeRound(n);
  await house.census('2026-03-02');
  writeRound(3);
  return house;
}

async function check(archive: Uint8Array, kept: Kept = {}) {
  return verifyFile(inMemory(archive), nodeDigests, kept);
}

async function codes(archive: Uint8Array, kept: Kept = {}) {
  return (await check(archive, kept)).findings.map(({ code }) => code);
}

const house = await sampleHouse();
const files = await sampleFiles(house, [ONE, TWO, THREE]);
files.set('census.json', await sampleCensus(house, ONE));
const whole = await packed(files, sampleManifest(files), OURS);

/** The files with one of them changed, or taken out. */
function changed(name: string, content: string | undefined): ArchiveContent {
  const others = new Map(files);
  if (content === undefined) others.delete(name);
  else others.set(name, content);
  return others;
}

describe('verifyFile on an archive', () => {
  it('holds for one as it is handed out, and says how many units and entries it looked at', async () => {
    const report = await check(whole, { key: OURS.vkey });
    expect(report).toMatchObject({ kind: 'archive', holds: true, units: 3, entries: 12, findings: [], notes: [] });
    expect(report.checks.every(({ ok }) => ok === true)).toBe(true);
    expect(describeReport(report)[0]).toBe('It holds: the archive of 3 units (12 entries) is as it was sealed.');
  });

  it('holds for one that the house made, with traces, other formats and a unit that it has not', async () => {
    const bench = new ArchiveBench({ signer: OURS });
    bench.units.set('A-1/1', { entries: 3, traces: [sampleTrace('run-1', 's,tc1\n0,25\n')] });
    const wanted = ['1', '2'].map((serial) => ({ assembly: 'A-1', serial }));
    const { id } = await bench.ask(wanted, { formats: ['csv'] });
    await bench.work();
    const archive = await bench.bytes(id);
    expect(await codes(archive, { key: OURS.vkey })).toEqual([]);
    expect(await check(archive)).toMatchObject({ holds: true, units: 1, entries: 3 });
    expect(await codes(archive, { key: THEIRS.vkey })).toEqual(['key-untrusted', 'key-untrusted']);
  });

  it('says that an unsigned manifest vouches for nothing', async () => {
    const report = await check(await packed(files, sampleManifest(files), null));
    expect(report.holds).toBe(true);
    expect(report.notes.join(' ')).toContain('manifest is not signed');
    expect(report.checks.filter(({ ok }) => ok === null)).toHaveLength(1);
  });

  it('does not judge one that was cut anywhere', async () => {
    for (const part of [0.01, 0.3, 0.7, 0.99]) {
      const report = await check(whole.slice(0, Math.floor(whole.length * part)));
      expect(report.findings).toMatchObject([{ code: 'archive-cut' }]);
      expect(verifyExitCode(report)).toBe(2);
    }
  });

  it('finds a file that is missing, added or changed, by name', async () => {
    const manifest = sampleManifest(files);
    const missing = await check(await packed(changed(FILE, undefined), manifest, OURS));
    expect(missing.findings).toMatchObject([{ file: FILE, code: 'file-missing' }]);
    const added = await check(await packed(changed('units/A-1/4.audit.json', '{}'), manifest, OURS));
    expect(added.findings).toMatchObject([{ file: 'units/A-1/4.audit.json', code: 'file-added' }]);
    const other = await check(await packed(changed(`units/${TWO}.csv`, 'seq\r\n2\r\n'), manifest, OURS));
    expect(other.findings).toMatchObject([{ file: `units/${TWO}.csv`, code: 'file-changed' }]);
  });

  it('finds a unit that was taken out together with its lines in the manifest', async () => {
    const others = new Map([...files].filter(([name]) => !name.startsWith(`units/${TWO}.`)));
    const manifest = sampleManifest(others);
    expect(await codes(await packed(others, manifest, OURS, sampleManifest(files)))).toEqual(['manifest-forged']);
    expect(await codes(await packed(others, manifest, THEIRS))).toEqual(['key-untrusted']);
    const unsigned = await check(await packed(others, manifest, null));
    expect(unsigned.notes.join(' ')).toContain(`not in this archive: ${TWO}`);
    const withKey = await check(await packed(others, manifest, null), { key: OURS.vkey });
    expect(withKey.findings.map(({ code }) => code)).toEqual(['not-signed']);
  });

  it('finds a unit that has vanished from the book since a census', async () => {
    const others = new Map([...files].filter(([name]) => !name.startsWith(`units/${TWO}.`)));
    const report = await check(await packed(others, sampleManifest(others, [{ assembly: 'A-1', serial: '2' }]), OURS));
    expect(report.findings).toMatchObject([{ ledger: TWO, code: 'unit-vanished' }]);
  });

  it('names file, ledger and entry of a fault within an audit', async () => {
    const document = JSON.parse(String(files.get(FILE))) as AuditDocument2;
    const entries = document.entries.map((entry) => (entry.seq === 2 ? { ...entry, data: 'forged' } : entry));
    const forged = changed(FILE, JSON.stringify({ ...document, entries }));
    const report = await check(await packed(forged, sampleManifest(forged), OURS));
    expect(report.findings).toMatchObject([{ file: FILE, ledger: TWO, seq: 2, code: 'entry-changed' }]);
    expect(describeReport(report).join('\n')).toContain(`${FILE}: ${TWO}: Entry 2 was changed`);
  });

  it('finds a story that the house told anew, by the census beside the audits', async () => {
    const document = JSON.parse(String(files.get(FILE))) as AuditDocument2;
    const entries = document.entries.map((entry) => (entry.seq === 2 ? { ...entry, data: 'forged' } : entry));
    const retold = { ...document, ...rechain(entries), log: null, statement: null };
    const forged = changed(FILE, JSON.stringify({ ...retold, seal: sealOfDocument(retold) }));
    const report = await check(await packed(forged, sampleManifest(forged), OURS));
    expect(report.findings).toMatchObject([{ file: FILE, ledger: TWO, seq: 1, code: 'story-forked' }]);
  });

  it('finds an audit that is not the one that the manifest lists', async () => {
    const manifest = sampleManifest(files);
    const units = manifest.units.map((unit) => (unit.serial === '2' ? { ...unit, count: 3 } : unit));
    const counts = { ...manifest.counts, entries: 11 };
    const report = await check(await packed(files, { ...manifest, units, counts }, OURS));
    expect(report.findings).toMatchObject([{ file: FILE, ledger: TWO, code: 'manifest-mismatch' }]);
    const swapped = manifest.units.map((unit, at, all) => ({ ...unit, files: all.at(at - 1)?.files ?? [] }));
    expect(await codes(await packed(files, { ...manifest, units: swapped }, OURS))).toEqual(
      Array(3).fill('manifest-mismatch'),
    );
  });

  it('finds a manifest that contradicts itself, cannot be read, or is missing', async () => {
    const manifest = sampleManifest(files);
    expect(await codes(await packed(files, { ...manifest, wanted: 9 }, OURS))).toEqual(['manifest-mismatch']);
    const twice = { ...manifest, files: [...manifest.files, ...manifest.files.slice(0, 1)] };
    expect(await codes(await packed(files, twice, OURS))).toContain('manifest-mismatch');
    expect(await codes(await packed(files, { ...manifest, version: 2 }, OURS))).toEqual(['manifest-malformed']);
    const pretty = new Map(files).set('manifest.json', JSON.stringify(manifest, null, 1));
    expect(await codes(await zipped(pretty))).toEqual(['manifest-malformed']);
    expect(await codes(await zipped(files))).toEqual(['manifest-missing']);
  });

  it('finds two trees of one size that the log showed', async () => {
    const fork = new SampleHouse(OURS, ORIGIN);
    while (fork.leaves.length < house.leaves.length) fork.write(TWO, { data: { n: 'forged' } });
    const forged = changed(FILE, JSON.stringify(await fork.audit(TWO)));
    forged.delete('census.json');
    const report = await check(await packed(forged, sampleManifest(forged), OURS));
    // The first one sets the measure: it may be any of them that is the forged one.
    expect(report.findings[0]).toMatchObject({ file: FILE, code: 'log-forked' });
  });

  it('finds a trace that no audit names', async () => {
    const more = changed('traces/run-1.csv', 's,tc1\n0,25\n');
    const report = await check(await packed(more, sampleManifest(more), OURS));
    expect(report.findings).toMatchObject([{ file: 'traces/run-1.csv', code: 'file-added' }]);
  });

  it('finds a census that was changed, and one that cannot be read', async () => {
    for (const census of [String(files.get('census.json')).replace('"ledgers":3', '"ledgers":2'), '{}', 'x']) {
      const forged = changed('census.json', census);
      expect(await codes(await packed(forged, sampleManifest(forged), OURS))).toEqual(['census-broken']);
    }
  });

  it('holds every audit against a checkpoint that was kept, and every signature against a key', async () => {
    const theirs = await codes(whole, { key: THEIRS.vkey });
    expect(new Set(theirs)).toEqual(new Set(['key-untrusted']));
    const newer = await check(whole, { checkpoint: await (await sampleHouse()).checkpoint(5) });
    expect(newer.findings.map(({ code }) => code)).toEqual(Array(3).fill('consistency-missing'));
  });
});

describe('verifyFile on an archive that is made to harm', () => {
  const copyOf = (archive: Uint8Array) => Buffer.from(archive);

  it.each(['../evil.csv', '/etc/evil', 'C:/evil.csv', 'units\\..\\..\\evil'])(
    'refuses a name such as %s',
    async (name) => {
      const [finding] = (await check(await packed(changed(name, 'x'), sampleManifest(changed(name, 'x')), OURS)))
        .findings;
      expect(finding?.code).toBe('archive-unsafe');
    },
  );

  it('refuses a name twice, and says which', async () => {
    const pair = await packed(changed(`units/${TWO}.csw`, 'x'), sampleManifest(files), OURS);
    const twice = copyOf(pair);
    for (let at = twice.indexOf('.csw'); at >= 0; at = twice.indexOf('.csw')) twice.write('.csv', at);
    const report = await check(twice);
    expect(report.findings).toMatchObject([{ code: 'file-twice' }]);
    expect(report.findings[0]?.what).toContain(`units/${TWO}.csv`);
  });

  it('refuses bytes that belong to nothing, before and after', async () => {
    for (const odd of [Buffer.concat([Buffer.from('PK'), whole]), Buffer.concat([whole, Buffer.alloc(9)])]) {
      expect((await check(odd)).holds).toBe(false);
    }
  });

  it('does not unpack what states absurd sizes, or packs better than any history does', async () => {
    const bomb = '0'.repeat(2 ** 25);
    const big = changed('units/A-1/big.csv', bomb);
    expect(await codes(await packed(big, sampleManifest(big), OURS))).toEqual(['file-unreadable']);
    const size = copyOf(whole);
    const record = size.indexOf(Buffer.from([0x50, 0x4b, 1, 2]));
    size.writeUInt32LE(0xfffffff0, record + 24);
    expect((await check(size)).holds).toBe(false);
  });

  it('answers to every single byte that is changed', async () => {
    const few = new Map([...files].slice(0, 1));
    const small = await packed(few, sampleManifest(few), OURS);
    const step = 37;
    for (let at = 0; at < small.length; at += step) {
      const other = copyOf(small);
      other[at] = (other[at] ?? 0) ^ 0x10;
      const report = await check(other);
      expect(typeof report.holds).toBe('boolean');
    }
  });
});
