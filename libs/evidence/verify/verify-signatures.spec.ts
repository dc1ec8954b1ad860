import type { EntryBody, JsonValue } from '../../ledger/ports/seal.js';
import { commitName } from '../../ledger/signing/commit-name.js';
import { signAct } from '../../ledger/signing/sign-act.js';
import { nodeDigests } from '../node-digests.js';
import { seal } from '../seal.js';
import { SampleHouse, sampleSigner, type AuditDocument2 } from '../spec-support/sample-house.js';
import { verifyAudit } from './verify-audit.js';

const UNIT = 'DEMO-100/SN-1';
const AT = '2026-03-02T10:00:00.000Z';
const ANN = commitName('ann', 'Ann Example');

function signedData(by = 'ann', over: object = {}): Record<string, unknown> {
  const signer = { name: by, named: ANN.commitment, roles: [], meaning: 'released' };
  const { signed, signature } = signAct(seal, signer, AT, { act: 'release', hold: 'h-1', note: 'fine', ...over });
  return { hold: 'h-1', note: 'fine', signed, signature };
}

/** An audit whose second entry is a release, as `over` leaves it. */
async function released(over: Partial<EntryBody>, people: JsonValue[] = [{ ...ANN }]): Promise<AuditDocument2> {
  const house = new SampleHouse(sampleSigner(1, 'heatbook/sample'));
  house.write(UNIT);
  house.write(UNIT, {
    type: 'heatbook.hold.released.v1',
    actor: { kind: 'person', name: 'ann' },
    data: signedData(),
    ...over,
  });
  return house.audit(UNIT, { over: { people } });
}

async function check(document: AuditDocument2) {
  return verifyAudit(JSON.stringify(document), nodeDigests);
}

async function found(document: AuditDocument2) {
  return (await check(document)).findings.map(({ ledger, seq, code }) => ({ ledger, seq, code }));
}

const second = (code: string) => [{ ledger: UNIT, seq: 2, code }];
const ofTheFile = (code: string) => [{ ledger: null, seq: null, code }];

describe('verifyAudit on signatures of people', () => {
  it('holds where what is signed gives the hash, and counts and tells the signatures', async () => {
    const report = await check(await released({}));
    expect(report.holds).toBe(true);
    expect(report.tale?.signatures).toEqual({
      count: 1,
      first: [{ ledger: UNIT, seq: 2, by: 'ann', meaning: 'released', at: AT }],
    });
  });

  it('takes signatures from before there were commitments, in both versions', async () => {
    const signed = { act: 'release', hold: 'h-1', by: 'ann', printedName: 'Ann', meaning: 'released', at: AT };
    const contentHash = seal.sha256Hex(seal.canonical(signed));
    const signature = { by: 'ann', printedName: 'Ann', at: AT, meaning: 'released', contentHash };
    expect(await found(await released({ data: { signed, signature } }))).toEqual([]);
    const other = { ...signature, printedName: 'Bob' };
    expect(await found(await released({ data: { signed, signature: other } }))).toEqual(second('signature-mismatch'));
  });

  it.each([
    [
      'another note in what is signed',
      { ...signedData(), signed: { ...(signedData().signed as object), note: 'other' } },
      'signature-broken',
    ],
    ['no hash', { ...signedData(), signature: { by: 'ann' } }, 'signature-malformed'],
    ['no signature at all', { note: 'fine' }, 'signature-missing'],
    ['a signature of another hold', { ...signedData(), hold: 'h-2' }, 'signature-mismatch'],
    ['a signature by somebody else than the actor', signedData('bob'), 'signature-mismatch'],
    [
      'another meaning beside it',
      { ...signedData(), signature: { ...(signedData().signature as object), meaning: 'x' } },
      'signature-mismatch',
    ],
  ])('finds a signed entry with %s', async (_name, data, code) => {
    const [first] = await found(await released({ data }));
    expect(first).toEqual(second(code)[0]);
  });

  it('finds an annulment whose signature strikes another event, or one of another ledger', async () => {
    const event = { source: '/stations/s', id: 'e-1' };
    const entry = (over: object) => ({
      type: 'heatbook.entry.annulled.v1',
      event,
      data: signedData('ann', { act: 'annul', subject: UNIT, event, ...over }),
    });
    const good = await check(await released(entry({})));
    expect(good.findings).toEqual([]);
    expect(good.tale?.struck).toEqual({
      count: 1,
      first: [{ ledger: UNIT, seq: 2, event: '/stations/s e-1', by: 'ann' }],
    });
    for (const over of [{ event: { ...event, id: 'e-2' } }, { subject: 'DEMO-100/SN-2' }]) {
      expect(await found(await released(entry(over)))).toEqual(second('signature-mismatch'));
    }
  });
});

describe('verifyAudit on printed names', () => {
  it('says that one is erased or left out, and calls it no fault', async () => {
    for (const people of [[], [{ ...ANN, printedName: null, salt: null }]]) {
      const report = await check(await released({}, people));
      expect(report.holds).toBe(true);
      expect(report.notes.join(' ')).toContain('One printed name');
    }
  });

  it.each([
    ['another printed name', [{ ...ANN, printedName: 'Ann Other' }], 'person-mismatch'],
    ['another salt', [{ ...ANN, salt: '0'.repeat(64) }], 'person-mismatch'],
    ['a name without its salt', [{ ...ANN, salt: null }], 'person-malformed'],
    ['a name that has no canonical form', [{ ...ANN, printedName: '\ud800' }], 'person-malformed'],
    ['a commitment twice', [{ ...ANN }, { ...ANN }], 'person-twice'],
    ['something that is no person', [1], 'person-malformed'],
  ])('finds %s', async (_name, people, code) => {
    const document = await released({});
    const [first] = await found({ ...document, people });
    expect(first).toEqual(ofTheFile(code)[0]);
  });

  it('finds a commitment of another account under a signature', async () => {
    const bob = commitName('bob', 'Bob Example');
    const signer = { name: 'ann', named: bob.commitment, roles: [], meaning: 'released' };
    const data = signAct(seal, signer, AT, { act: 'release' });
    expect(await found(await released({ data }, [{ ...bob }]))).toEqual(second('signature-mismatch'));
  });
});

describe('verifyAudit on the list of traces', () => {
  const trace = { name: 'run-1', contentHash: 'a'.repeat(64), by: 'ann', at: AT, bytes: 10 };
  const traced = async (traces: JsonValue[]) => {
    const house = new SampleHouse(sampleSigner(1, 'heatbook/sample'));
    house.write(UNIT, { data: { heat: { trace: 'run-1' } } });
    return house.audit(UNIT, { over: { traces } });
  };

  it('holds where every trace is there, and says which are not', async () => {
    const whole = await check(await traced([trace]));
    expect(whole.holds).toBe(true);
    expect(whole.notes.join(' ')).not.toContain('run-1');
    const report = await check(await traced([]));
    expect(report.notes[0]).toContain('run-1');
    expect(report.holds).toBe(true);
  });

  it('finds one that is listed twice, or has no hash', async () => {
    expect(await found(await traced([trace, trace]))).toEqual(ofTheFile('trace-malformed'));
    expect(await found(await traced([{ ...trace, contentHash: 'x' }]))).toEqual(ofTheFile('trace-malformed'));
  });
});
