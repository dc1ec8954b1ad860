import { nodeDigests } from '../node-digests.js';
import { SampleHouse, sampleSigner } from '../spec-support/sample-house.js';
import type { Kept } from './kept.js';
import { verifyAudit } from './verify-audit.js';

const ORIGIN = 'heatbook/sample';
const UNIT = 'DEMO-100/SN-1';

function writeDay(house: SampleHouse, day: string): void {
  for (let n = 0; n < 3; n += 1) house.write(UNIT, { data: { day, n } });
  house.write('DEMO-100/SN-2', { data: { day } });
}

async function check(document: object, kept: Kept) {
  const { holds, findings } = await verifyAudit(JSON.stringify(document), nodeDigests, kept);
  return {
    holds,
    findings,
    codes: findings.map(({ code }) => code),
    said: findings.map(({ what }) => what).join('\n'),
  };
}

/** The house as it was yesterday, and as it is today. */
async function twoDays() {
  const house = new SampleHouse(sampleSigner(1, ORIGIN), ORIGIN);
  writeDay(house, 'yesterday');
  const yesterday = { size: house.leaves.length, checkpoint: await house.checkpoint(), audit: await house.audit() };
  writeDay(house, 'today');
  return { house, yesterday, today: { size: house.leaves.length, checkpoint: await house.checkpoint() } };
}

/** The house with its database put back to yesterday, on which another day was written. */
function putBack(entries: number): SampleHouse {
  const house = new SampleHouse(sampleSigner(1, ORIGIN), ORIGIN);
  writeDay(house, 'yesterday');
  for (let n = 0; n < entries; n += 1) house.write(UNIT, { data: { day: 'another', n } });
  return house;
}

describe('verifyAudit against a checkpoint that was kept', () => {
  it('holds where the file proves that its log goes on from it', async () => {
    const { house, yesterday, today } = await twoDays();
    const document = await house.audit(UNIT, { since: [yesterday.size] });
    expect((await check(document, { checkpoint: yesterday.checkpoint })).codes).toEqual([]);
    expect((await check(document, { checkpoint: today.checkpoint })).codes).toEqual([]);
    expect((await check(document, { checkpoint: JSON.stringify(yesterday.audit) })).codes).toEqual([]);
    const empty = await new SampleHouse(sampleSigner(1, ORIGIN), ORIGIN).checkpoint(0);
    expect((await check(document, { checkpoint: empty })).codes).toEqual([]);
  });

  it('says how to get the proof that is missing, and takes one that was fetched', async () => {
    const { house, yesterday, today } = await twoDays();
    const document = await house.audit();
    const without = await check(document, { checkpoint: yesterday.checkpoint });
    expect(without.codes).toEqual(['consistency-missing']);
    expect(without.said).toContain(`/v1/log/proofs/consistency?from=${yesterday.size}&to=${today.size}`);
    expect(without.said).toContain('--since-checkpoint');
    const proof = JSON.stringify(await house.consistency(yesterday.size));
    expect((await check(document, { checkpoint: yesterday.checkpoint, proof })).codes).toEqual([]);
    expect((await check(document, { checkpoint: yesterday.checkpoint, proof: '{}' })).codes).toEqual(without.codes);
  });

  it('says of a longer one that the file is older, or the book was put back', async () => {
    const { today } = await twoDays();
    const { holds, codes, said } = await check(await putBack(2).audit(), { checkpoint: today.checkpoint });
    expect(holds).toBe(false);
    expect(codes).toEqual(['kept-newer']);
    expect(said).toContain(`has ${today.size - 2} entries, and the checkpoint that you kept had ${today.size}`);
    expect(said).toContain('2026-03-03T10:00:00.000Z');
  });

  it('finds a book that was put back, whatever was written since', async () => {
    const { house, today } = await twoDays();
    expect((await check(await putBack(4).audit(), { checkpoint: today.checkpoint })).codes).toEqual(['log-forked']);
    const longer = putBack(9);
    const proofs = [await longer.consistency(today.size), await house.consistency(today.size - 4, today.size)];
    for (const since of [[today.size], []]) {
      const document = await longer.audit(UNIT, { since });
      for (const proof of proofs) {
        const { codes } = await check(document, { checkpoint: today.checkpoint, proof: JSON.stringify(proof) });
        expect(['log-forked', 'consistency-missing']).toContain(codes[0]);
      }
    }
    const document = await longer.audit(UNIT, { since: [today.size] });
    expect((await check(document, { checkpoint: today.checkpoint })).codes).toEqual(['log-forked']);
  });

  it('takes one from before a rotation, also beside the key that took over', async () => {
    const { house, yesterday } = await twoDays();
    for (const endorsed of [true, false]) {
      const next = sampleSigner(endorsed ? 2 : 4, ORIGIN);
      house.rotate(next, endorsed);
      const document = await house.audit(UNIT, { since: [yesterday.size] });
      expect((await check(document, { checkpoint: yesterday.checkpoint, key: next.vkey })).codes).toEqual([]);
    }
  });

  it('places the entry where the story parts from an audit that was kept', async () => {
    const { house } = await twoDays();
    const kept = JSON.stringify(await house.audit());
    const { findings } = await check(await putBack(9).audit(), { checkpoint: kept });
    expect(findings[0]).toMatchObject({ ledger: UNIT, seq: 4, code: 'story-forked' });
    const shorter = await check(await putBack(0).audit(), { checkpoint: kept });
    expect(shorter.findings[0]).toMatchObject({ ledger: UNIT, seq: 4, code: 'log-ahead' });
  });

  it('refuses one of another log, by another key, or that is none', async () => {
    const { house } = await twoDays();
    const document = await house.audit();
    const other = new SampleHouse(sampleSigner(1, 'heatbook/other'), 'heatbook/other');
    expect((await check(document, { checkpoint: await other.checkpoint() })).codes).toEqual(['kept-foreign']);
    const theirs = new SampleHouse(sampleSigner(3, ORIGIN), ORIGIN);
    const forged = await check(document, { checkpoint: await theirs.checkpoint() });
    expect(forged.codes).toEqual(['kept-forged']);
    expect(forged.said).toContain('the file is not from that house');
    for (const checkpoint of ['', 'nothing', '{}', '{']) {
      expect((await check(document, { checkpoint })).codes).toEqual(['kept-forged']);
    }
  });

  it('says that a file without a log cannot be held against it', async () => {
    const { house, yesterday } = await twoDays();
    const document = await house.audit(UNIT, { over: { log: null } });
    expect((await check(document, { checkpoint: yesterday.checkpoint })).codes).toEqual(['consistency-missing']);
  });
});
