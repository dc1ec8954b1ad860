import { nodeDigests } from '../node-digests.js';
import { rehash, sampleAudit, sampleBody, sealAll } from '../spec-support/sample-audit.js';
import { SampleHouse, sampleSigner } from '../spec-support/sample-house.js';
import { describeReport, verifyExitCode } from './describe-report.js';
import type { PlacedEntry } from './inspect-entries.js';
import { inMemory } from './random-access.js';
import type { Say } from './verification-report.js';
import { verifyAudit } from './verify-audit.js';
import { verifyChain } from './verify-chain.js';
import { verifyFile } from './verify-file.js';
import { verifyOrder } from './verify-order.js';

const UNIT = 'DEMO-100/SN-1';
const DEEP = '['.repeat(100_000) + ']'.repeat(100_000);

const house = new SampleHouse(sampleSigner(1, 'heatbook/sample'));
for (let n = 0; n < 3; n += 1) house.write(UNIT, { data: { marked: n } });
await house.census('2026-03-02');
const document = await house.audit();
const text = JSON.stringify(document);

async function report(json: string) {
  const found = await verifyAudit(json, nodeDigests);
  // Whatever it says, it can be printed.
  for (const line of describeReport(found)) expect(line).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/);
  return found;
}

describe('verifyAudit on files that are made to harm', () => {
  it.each([
    ['data of an entry', '"data":{"marked":1}', `"data":${DEEP}`],
    ['the unit', '"unit":{', `"unit":{"deep":${DEEP},`],
    ['the log', '"log":{', `"log":{"deep":${DEEP},`],
    ['a census', '"groupPath":[', `"groupPath":[${DEEP},`],
    ['people', '"people":[', `"people":[${DEEP}`],
    ['what is signed', '"data":{"marked":1}', `"data":{"signed":{"deep":${DEEP}},"signature":{}}`],
  ])('answers to nesting without end in %s', async (_name, place, nested) => {
    const forged = text.replace(place, nested);
    expect(forged).not.toBe(text);
    expect((await report(forged)).holds).toBe(false);
  });

  it.each(['__proto__', 'constructor', 'hasOwnProperty', 'toJSON', 'then'])(
    'takes a member called %s as any other',
    async (name) => {
      for (const place of ['"data":{', '"unit":{', '"log":{', '{']) {
        const forged = text.replace(place, `${place}"${name}":{"seal":"x"},`);
        expect((await report(forged)).holds).toBe(false);
        expect({}).not.toHaveProperty('seal');
      }
    },
  );

  it('reads no number that is beyond all measure as another', async () => {
    for (const number of ['1e999', '-1', '1.5', '9007199254740993', '1e300', '"1"', 'null']) {
      for (const member of ['index', 'groupIndex', 'ledgerIndex', 'size', 'count', 'from', 'censusesLeftOut']) {
        const forged = text.replace(new RegExp(`"${member}":\\d+`), `"${member}":${number}`);
        if (forged !== text) expect((await report(forged)).holds).toBe(false);
      }
    }
  });

  it('reads no proof that is longer than any can be', async () => {
    const path = JSON.stringify(Array(10_000).fill('a'.repeat(64)));
    const found = await report(text.replace(/"path":\[[^\]]*\]/, `"path":${path}`));
    expect(found.findings).toMatchObject([{ code: 'log-malformed' }]);
  });

  it('prints nothing that speaks to a terminal, however long', async () => {
    const forged = text.replaceAll(UNIT, `\\u001b[2J\\u0000${'x'.repeat(5000)}`);
    const lines = describeReport(await report(forged));
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThan(2000);
  });

  it('names every entry where all of them are at fault', async () => {
    const many = sealAll(Array.from({ length: 500 }, (_, at) => sampleBody(UNIT, at + 1)));
    for (const forged of [
      many.entries.map((entry) => ({ ...entry, data: 'forged' })),
      many.entries.map((entry) => rehash({ ...entry, prevHash: 'b'.repeat(64) })),
      many.entries.map((entry) => ({ ...entry, seq: 7 })),
      many.entries.map(() => 1),
    ]) {
      const found = await report(JSON.stringify({ ...sampleAudit(0), ...many, entries: forged }));
      expect(found.findings.length).toBeGreaterThan(249);
    }
  });

  it('looks for no entry among all others', () => {
    const entries: PlacedEntry[] = Array.from({ length: 200_000 }, (_, at) => {
      const hash = String(at);
      return { at, place: at + 1, prevHash: 'none', hash, foreign: null, fault: null, text: null };
    });
    const head = { count: entries.length, headHash: 'none' };
    const say: Say = (seq, code, what) => ({ ledger: UNIT, seq, code, what });
    const started = process.cpuUsage();
    const { kept } = verifyOrder(entries.toReversed(), head, say);
    expect(verifyChain(kept, head, new Set(), say).length).toBeGreaterThan(99_999);
    // A second or less; comparing each with each would take minutes.
    expect(process.cpuUsage(started).user / 1e6).toBeLessThan(20);
  });

  it('answers soon where there are very many ledgers, each at fault', async () => {
    const device = { device: 'D-1', entries: [1], count: 7, headHash: '' };
    const devices = Array.from({ length: 5_000 }, (_, at) => ({ ...device, device: `D-${at}` }));
    const found = await report(JSON.stringify({ ...document, devices: [...devices, ...devices] }));
    expect(found.holds).toBe(false);
    expect(describeReport(found).length).toBeLessThan(400);
  });
});

describe('verifyFile', () => {
  const ofText = (content: string, kept = {}) =>
    verifyFile(inMemory(new TextEncoder().encode(content)), nodeDigests, kept);

  it('takes an audit, and says of other bytes that they are none', async () => {
    expect(await ofText(text)).toMatchObject({ kind: 'audit', holds: true });
    for (const bytes of [
      Uint8Array.of(0xff, 0xfe, 0),
      Uint8Array.of(),
      Uint8Array.of(0x50, 0x4b),
      Uint8Array.of(0x50),
    ]) {
      const found = await verifyFile(inMemory(bytes), nodeDigests);
      expect(verifyExitCode(found)).toBe(2);
    }
  });

  it('does not read into memory what does not fit', async () => {
    const huge = {
      size: 2 ** 40,
      read: (_: number, length: number) => Promise.resolve(new Uint8Array(Math.min(length, 9))),
    };
    expect((await verifyFile(huge, nodeDigests)).findings).toMatchObject([{ code: 'too-big' }]);
  });

  it('takes a signed checkpoint with a key, and asks for the key without', async () => {
    const note = await house.checkpoint();
    expect((await ofText(note)).findings).toMatchObject([{ code: 'key-needed' }]);
    const sound = await ofText(note, { key: house.signer.vkey });
    expect(sound).toMatchObject({ kind: 'checkpoint', holds: true, subject: 'heatbook/sample' });
    expect(describeReport(sound)[0]).toBe('It holds: the checkpoint of heatbook/sample is signed.');
    const other = await ofText(note, { key: sampleSigner(3, 'heatbook/sample').vkey });
    expect(other.findings).toMatchObject([{ code: 'checkpoint-forged' }]);
  });
});
