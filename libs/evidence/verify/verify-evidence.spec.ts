import type { LogEvidence } from '../../ledger/log/log-evidence.js';
import type { SealedEntry } from '../../ledger/ports/seal.js';
import { nodeDigests } from '../node-digests.js';
import { rechain, sealOfDocument } from '../spec-support/sample-audit.js';
import { SampleHouse, sampleSigner, type AuditDocument2 } from '../spec-support/sample-house.js';
import type { Kept } from './kept.js';
import { verifyAudit } from './verify-audit.js';

const ORIGIN = 'heatbook/sample';
const UNIT = 'DEMO-100/SN-1';
const [OURS, NEXT, THEIRS] = [1, 2, 3].map((byte) => sampleSigner(byte, ORIGIN)) as [Signer, Signer, Signer];
type Signer = ReturnType<typeof sampleSigner>;

/** A house with nine entries on one unit, of which a census counts the first six, and one device on it. */
async function sampleHouse(): Promise<SampleHouse> {
  const house = new SampleHouse(OURS, ORIGIN);
  house.write('DEMO-100/SN-2');
  for (let n = 0; n < 6; n += 1) house.write(UNIT, { data: { n } });
  house.write('devices/D-1');
  await house.census('2026-03-02');
  for (let n = 6; n < 9; n += 1) house.write(UNIT, { data: { n } });
  return house;
}

function check(document: object, kept: Kept = {}) {
  return verifyAudit(JSON.stringify(document), nodeDigests, kept);
}

async function found(document: object, kept: Kept = {}) {
  const { findings } = await check(document, kept);
  return findings.map(({ ledger, seq, code }) => ({ ledger, seq, code }));
}

/** The document as whoever has no key of the house can leave it: sealed anew, the statement as it was or gone. */
function resealed(document: AuditDocument2, statement: string | null = document.statement): AuditDocument2 {
  return { ...document, seal: sealOfDocument(document), statement };
}

/** The whole chain told anew, from an entry on that says something else. */
function retold(document: AuditDocument2, seq: number): AuditDocument2 {
  const entries = document.entries.map((entry) => (entry.seq === seq ? { ...entry, data: { n: 'forged' } } : entry));
  return { ...document, ...rechain(entries) };
}

function withLog(document: AuditDocument2, change: (log: LogEvidence) => Partial<LogEvidence>): AuditDocument2 {
  if (document.log === null) throw new Error('the sample has a log');
  return { ...document, log: { ...document.log, ...change(document.log) } };
}

describe('verifyAudit on version 2', () => {
  it('holds for an audit as it is handed out, with every check made', async () => {
    const document = await (await sampleHouse()).audit();
    const report = await check(document, { key: OURS.vkey });
    expect(report).toMatchObject({ holds: true, subject: UNIT, entries: 10, findings: [], notes: [] });
    expect(report.checks.filter(({ ok }) => ok !== true)).toEqual([]);
  });

  it('says where the keys are taken on trust, and how to get one by another way', async () => {
    const { holds, notes } = await check(await (await sampleHouse()).audit());
    expect(holds).toBe(true);
    expect(notes).toEqual([expect.stringContaining(OURS.vkey)]);
  });

  it('holds without log and signature, and does not say that it shows what they would', async () => {
    const document = await (await sampleHouse()).audit();
    const report = await check(resealed({ ...document, log: null }, null));
    expect(report.holds).toBe(true);
    expect(report.checks.filter(({ ok }) => ok === null)).toHaveLength(2);
    expect(await found(resealed({ ...document, log: null }, null), { key: OURS.vkey })).toEqual([
      { ledger: null, seq: null, code: 'not-signed' },
    ]);
  });

  it('refuses beside a key what was told anew with statement and proofs taken out', async () => {
    const document = await (await sampleHouse()).audit();
    const bare = withLog(retold(document, 4), ({ inclusion }) => ({
      inclusion: inclusion.filter(({ subject }) => subject !== UNIT),
      censuses: [],
    }));
    const stripped = resealed(bare, null);
    const unsigned = [{ ledger: null, seq: null, code: 'not-signed' }];
    expect(await found(stripped, { key: OURS.vkey })).toEqual(unsigned);
    expect(await found(resealed({ ...document, holds: [] }, null), { key: OURS.vkey })).toEqual(unsigned);
    const trusting = await check(stripped);
    expect(trusting.checks.filter(({ ok }) => ok === null)).toHaveLength(3);
  });

  it('holds by the statement alone where there was no log yet', async () => {
    const house = await sampleHouse();
    const document = await house.audit(UNIT, { over: { log: null } });
    expect(await found(document)).toEqual([]);
    expect(await found(document, { key: OURS.vkey })).toEqual([]);
    expect(await found(document, { key: THEIRS.vkey })).toEqual([{ ledger: null, seq: null, code: 'key-untrusted' }]);
  });

  it('says which entries are younger than the checkpoint, and calls them no fault', async () => {
    const house = await sampleHouse();
    const report = await check(await house.audit(UNIT, { size: house.leaves.length - 2 }), { key: OURS.vkey });
    expect(report).toMatchObject({ holds: true, notes: [expect.stringContaining(`Entries 8 to 9 of ${UNIT}`)] });
  });

  it('says of a ledger that the log does not have yet that its chain alone vouches for it', async () => {
    const house = await sampleHouse();
    house.write('DEMO-100/SN-9');
    const document = await house.audit('DEMO-100/SN-9', { device: 'none', size: house.leaves.length - 1 });
    const report = await check(document, { key: OURS.vkey });
    expect(report.holds).toBe(true);
    expect(report.checks.filter(({ ok }) => ok === null)).toHaveLength(2);
    expect(report.notes.join(' ')).toContain('no entry of DEMO-100/SN-9');
  });
});

describe('verifyAudit on a story that was told anew', () => {
  it.each([
    [2, 1, 'the census'],
    [6, 1, 'the census'],
    [7, 7, 'the log'],
    [9, 7, 'the log'],
  ])(
    'finds entry %i changed with every hash after it and the seal, between what agrees and what does not',
    async (seq, from, by) => {
      const document = await (await sampleHouse()).audit();
      const report = await check(resealed(retold(document, seq), null));
      expect(report.findings).toMatchObject([{ ledger: UNIT, seq: from, code: 'story-forked' }]);
      expect(report.findings[0]?.what).toContain(by);
    },
  );

  it('finds it by the statement too, where that was left', async () => {
    const document = await (await sampleHouse()).audit();
    const report = await check(resealed(retold(document, 7)));
    expect(report.findings.map(({ code }) => code)).toEqual(['statement-mismatch', 'story-forked']);
    expect(report.findings[0]?.what).toContain('headHash, seal');
  });

  it('finds a tail that was cut off with count, headHash and seal made to fit', async () => {
    const document = await (await sampleHouse()).audit();
    for (const length of [8, 5]) {
      const cut = resealed({ ...document, ...rechain(document.entries.slice(0, length)) }, null);
      const [finding] = (await check(cut)).findings;
      expect(finding).toMatchObject({ ledger: UNIT, seq: length + 1, code: 'log-ahead' });
    }
  });

  it('finds two entries that were exchanged and everything after them told anew', async () => {
    const document = await (await sampleHouse()).audit();
    const [, second, third] = document.entries as [SealedEntry, SealedEntry, SealedEntry];
    const swapped = rechain(document.entries.with(1, third).with(2, second));
    expect(await found(resealed({ ...document, ...swapped }, null))).toEqual([
      { ledger: UNIT, seq: 1, code: 'story-forked' },
    ]);
  });

  it('finds a device whose story was told anew', async () => {
    const document = await (await sampleHouse()).audit();
    const [device] = document.devices as [AuditDocument2['devices'][number]];
    const entries = device.entries.map((entry) => ({ ...entry, data: { n: 'forged' } }));
    const forged = { ...document, devices: [{ ...device, ...rechain(entries) }] };
    expect(await found(resealed(forged, null))).toEqual([{ ledger: 'devices/D-1', seq: 1, code: 'story-forked' }]);
  });

  it('does not say a second time what is found within the ledger', async () => {
    const document = await (await sampleHouse()).audit();
    const entries = document.entries.map((entry) => (entry.seq === 9 ? { ...entry, data: 'forged' } : entry));
    expect(await found({ ...document, entries })).toEqual([{ ledger: UNIT, seq: 9, code: 'entry-changed' }]);
  });

  it('finds a changed summary that was sealed anew', async () => {
    const document = await (await sampleHouse()).audit();
    const report = await check(resealed({ ...document, unit: { state: 'shipped' } }));
    expect(report.findings).toMatchObject([{ ledger: null, seq: null, code: 'statement-mismatch' }]);
    expect(report.findings[0]?.what).toContain('another seal');
  });
});

describe('verifyAudit on the signatures of the house', () => {
  it('refuses a statement and a checkpoint by another key, whoever they name', async () => {
    const house = await sampleHouse();
    const honest = await house.audit();
    house.signer = THEIRS;
    const forged = await house.audit();
    expect(await found(forged)).toEqual([
      { ledger: null, seq: null, code: 'key-untrusted' },
      { ledger: null, seq: null, code: 'checkpoint-forged' },
    ]);
    expect(await found({ ...honest, statement: forged.statement })).toMatchObject([{ code: 'key-untrusted' }]);
    const broken = honest.statement?.replace(/.{8}$/, 'AAAAAAAA') ?? '';
    expect(await found({ ...honest, statement: broken })).toMatchObject([{ code: 'statement-forged' }]);
    expect(await found({ ...honest, statement: 'e30.e30.AA' })).toMatchObject([{ code: 'statement-malformed' }]);
  });

  it('finds a house made up as a whole by the key that the reader has', async () => {
    const theirs = new SampleHouse(THEIRS, ORIGIN);
    for (let n = 0; n < 9; n += 1) theirs.write(UNIT, { data: { n } });
    const document = await theirs.audit();
    expect(await found(document)).toEqual([]);
    expect(await found(document, { key: OURS.vkey })).toMatchObject([
      { code: 'key-untrusted' },
      { code: 'key-untrusted' },
    ]);
    expect(await found(document, { key: 'no key' })).toMatchObject([
      { code: 'key-malformed' },
      { code: 'key-untrusted' },
      { code: 'key-untrusted' },
    ]);
  });

  it('follows a rotated key from the one before it where that endorsed it, and not otherwise', async () => {
    const house = await sampleHouse();
    house.rotate(NEXT, true);
    const endorsed = await house.audit();
    for (const key of [OURS.vkey, NEXT.vkey]) expect(await found(endorsed, { key })).toEqual([]);
    const lost = await sampleHouse();
    lost.rotate(NEXT, false);
    const unendorsed = await lost.audit();
    expect(await found(unendorsed, { key: NEXT.vkey })).toEqual([]);
    const report = await check(unendorsed, { key: OURS.vkey });
    expect(report.findings).toMatchObject([{ code: 'key-untrusted' }, { code: 'key-untrusted' }]);
    expect(report.findings[0]?.what).toContain('2026-03-02T00:00:00.000Z');
    expect((await check(unendorsed)).notes.join(' ')).toContain('not endorsed');
  });

  it('does not follow from a newer key to an older one', async () => {
    const house = await sampleHouse();
    const before = await house.audit();
    house.rotate(NEXT, true);
    const keys = (await house.audit()).log?.keys ?? [];
    const document = house.sealed(withLog(before, () => ({ keys })));
    expect(await found(document, { key: NEXT.vkey })).toMatchObject([{ code: 'key-untrusted' }]);
  });

  it('finds an endorsement by another key, or of another', async () => {
    const house = await sampleHouse();
    house.rotate(NEXT, true);
    const document = await house.audit();
    const swap = (endorsement: string) =>
      withLog(document, ({ keys }) => ({ keys: keys.map((key, at) => (at === 1 ? { ...key, endorsement } : key)) }));
    for (const endorsement of [house.note(`heatbook key\n${ORIGIN}\n${NEXT.vkey}\n`), 'nothing']) {
      expect(await found(house.sealed(swap(endorsement)))).toEqual([
        { ledger: null, seq: null, code: 'endorsement-broken' },
      ]);
    }
  });
});

describe('verifyAudit on proofs of the log', () => {
  it('finds a proof for another entry, another ledger, or twice', async () => {
    const house = await sampleHouse();
    const document = await house.audit();
    const proofs = (change: (own: LogEvidence['inclusion']) => LogEvidence['inclusion']) =>
      house.sealed(withLog(document, ({ inclusion }) => ({ inclusion: change(inclusion) })));
    const other = await house.inclusion(1);
    expect(
      await found(
        proofs(([unit, device]) =>
          [{ ...other, subject: UNIT, seq: 9, hash: unit?.hash ?? '' }, device].filter((one) => one !== undefined),
        ),
      ),
    ).toMatchObject([{ ledger: UNIT, seq: 9, code: 'inclusion-broken' }]);
    expect(await found(proofs((own) => [...own, other]))).toMatchObject([
      { ledger: 'DEMO-100/SN-2', seq: 1, code: 'inclusion-foreign' },
    ]);
    expect(await found(proofs((own) => [...own, ...own.slice(0, 1)]))).toMatchObject([{ code: 'inclusion-twice' }]);
  });

  it('finds a proof by which an entry of another ledger is passed off as one of this', async () => {
    const house = await sampleHouse();
    const document = await house.audit();
    const other = { ...(await house.inclusion(1)), subject: UNIT };
    const forged = withLog(document, ({ inclusion }) => ({ inclusion: [other, ...inclusion.slice(1)] }));
    expect(await found(house.sealed(forged))).toEqual([{ ledger: UNIT, seq: 1, code: 'story-forked' }]);
  });

  it('finds a checkpoint of another log, and one that is none', async () => {
    const house = await sampleHouse();
    const document = await house.audit();
    const foreign = new SampleHouse(sampleSigner(1, 'heatbook/other'), 'heatbook/other');
    const strange = withLog(document, () => ({ checkpoint: '' }));
    expect(await found(house.sealed(strange))).toMatchObject([{ code: 'checkpoint-malformed' }]);
    const note = await foreign.checkpoint();
    const report = await found(house.sealed(withLog(document, () => ({ checkpoint: note }))));
    expect(report[0]).toEqual({ ledger: null, seq: null, code: 'checkpoint-foreign' });
  });

  it.each([
    ['a group that was counted otherwise', (census: Census) => ({ group: { ...census.group, entries: 1 } })],
    ['a ledger that was counted otherwise', (census: Census) => ({ ledger: { ...census.ledger, seq: 5 } })],
    [
      'a day that was changed',
      (census: Census) => ({
        entry: { ...census.entry, data: { ...(census.entry.data as object), day: '2026-03-09' } },
      }),
    ],
    ['another place in the log', (census: Census) => ({ inclusion: { ...census.inclusion, index: 2 } })],
    ['another place in its group', () => ({ ledgerIndex: 0, ledgerPath: [] })],
  ])('finds a census with %s', async (_name, change) => {
    const house = await sampleHouse();
    house.write('DEMO-100/SN-3');
    await house.census('2026-03-03');
    const document = await house.audit();
    const forged = withLog(document, ({ censuses }) => ({
      censuses: censuses.map((census, at) => (at === 1 ? { ...census, ...change(census) } : census)),
    }));
    expect(await found(house.sealed(forged))).toEqual([{ ledger: '~book', seq: 3, code: 'census-broken' }]);
  });

  it('finds censuses that do not follow each other', async () => {
    const house = await sampleHouse();
    await house.census('2026-03-03');
    const forged = withLog(await house.audit(), ({ censuses }) => ({ censuses: censuses.toReversed() }));
    expect(await found(house.sealed(forged))).toMatchObject([{ code: 'census-order' }]);
  });

  it('says where a log cannot be read, and reads no list without end', async () => {
    const house = await sampleHouse();
    const document = await house.audit();
    for (const change of [
      { origin: 1 },
      { keys: [{}] },
      { inclusion: Array(100_001).fill(0) },
      { censusesLeftOut: -1 },
    ]) {
      const forged = { ...document, log: { ...document.log, ...change } };
      const [finding] = (await check(forged)).findings.filter(({ code }) => code === 'log-malformed');
      expect(finding?.what).toContain('/log/');
    }
  });
});

type Census = LogEvidence['censuses'][number];
