import { nodeDigests } from '../node-digests.js';
import { rechain, rehash, sealOfDocument } from '../spec-support/sample-audit.js';
import { SampleHouse, sampleSigner, type AuditDocument2 } from '../spec-support/sample-house.js';
import { commitName } from '../../ledger/signing/commit-name.js';
import { signAct } from '../../ledger/signing/sign-act.js';
import { seal } from '../seal.js';
import { verifyAudit } from './verify-audit.js';

const UNIT = 'DEMO-100/SN-1';
const OURS = sampleSigner(1, 'heatbook/sample');

type Path = readonly (string | number)[];

/** An audit in which everything occurs: a signature, a person, a trace, a hold, two keys, a census, a consistency proof. */
async function everything(): Promise<AuditDocument2> {
  const house = new SampleHouse(sampleSigner(2, 'heatbook/sample'));
  house.rotate(OURS, true);
  const ann = commitName('ann', 'Ann Example');
  const signer = { name: 'ann', named: ann.commitment, roles: [], meaning: 'released' };
  house.write('DEMO-100/SN-2');
  house.write(UNIT, { data: { refdes: 'U7', heat: { trace: 'run-1' }, dry: true, note: null } });
  house.write('devices/D-1', { effects: [{ kind: 'counted', used: 1 }] });
  await house.census('2026-03-02');
  const signed = signAct(seal, signer, '2026-03-02T10:00:00.000Z', { act: 'release' });
  house.write(UNIT, { type: 'heatbook.hold.released.v1', actor: { name: 'ann' }, data: { ...signed } });
  house.write(UNIT);
  const trace = { name: 'run-1', contentHash: 'a'.repeat(64), by: 'ann', at: '2026-03-02T10:00:00.000Z', bytes: 10 };
  const over = { people: [{ ...ann }], traces: [trace], holds: [{ id: 'h-1', state: 'released' }] };
  return house.audit(UNIT, { over, since: [3] });
}

function leavesOf(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path];
  return Object.entries(value).flatMap(([key, item]) =>
    leavesOf(item, [...path, Array.isArray(value) ? Number(key) : key]),
  );
}

/** The value with another one at the end of the path. */
function altered(value: unknown, [step, ...rest]: Path): unknown {
  if (step === undefined) {
    if (typeof value === 'string')
      return /^[0-9a-f]{64}$/.test(value) ? value.replace(/^./, (digit) => (digit === '0' ? '1' : '0')) : `${value}x`;
    if (typeof value === 'number') return value + 1;
    return typeof value === 'boolean' ? !value : 1;
  }
  if (Array.isArray(value)) return value.map((item: unknown, at) => (at === step ? altered(item, rest) : item));
  const members = Object.entries(value as object);
  return Object.fromEntries(
    members.map(([key, item]) => [key, key === step ? altered(item, rest) : (item as unknown)]),
  );
}

/** Ledger and number of the entry that a path leads into. */
function placeOf(path: Path): { ledger: string; seq: number } | undefined {
  const [list, at, entries, index] = path;
  if (list === 'entries' && typeof at === 'number') return { ledger: UNIT, seq: at + 1 };
  return list === 'devices' && entries === 'entries' && typeof index === 'number'
    ? { ledger: 'devices/D-1', seq: index + 1 }
    : undefined;
}

const document = await everything();
const leaves = leavesOf(document);
const inEntries = leaves.filter((path) => placeOf(path) !== undefined);
const NOT_HASHED = new Set<unknown>(['hash', 'prevHash', 'seq', 'subject']);
const content = inEntries.filter((path) => !NOT_HASHED.has(path.at(path[0] === 'entries' ? 2 : 4)));

async function found(forged: AuditDocument2) {
  const { holds, findings } = await verifyAudit(JSON.stringify(forged), nodeDigests);
  expect(holds).toBe(findings.length === 0);
  return findings;
}

function forge(path: Path): AuditDocument2 {
  return altered(document, path) as AuditDocument2;
}

function resealed(forged: AuditDocument2, statement: string | null): AuditDocument2 {
  return { ...forged, seal: sealOfDocument(forged), statement };
}

describe('verifyAudit on one changed value, wherever it is', () => {
  it('holds for the file in which every value is then changed', async () => {
    expect(await found(document)).toEqual([]);
    expect(leaves.length).toBeGreaterThan(135);
    expect(content.length).toBeGreaterThan(35);
  });

  it('finds each value of the file that is changed, and places those in entries', async () => {
    for (const path of leaves) {
      const findings = await found(forge(path));
      const place = placeOf(path);
      if (place) expect([path, findings]).toEqual([path, expect.arrayContaining([expect.objectContaining(place)])]);
      else expect([path, findings]).not.toEqual([path, []]);
    }
  });

  it('finds each value of an entry that is changed with the hash of the entry', async () => {
    for (const path of content) {
      const place = placeOf(path);
      const { entries, devices, ...rest } = forge(path);
      const forged = {
        ...{ ...rest, entries: path[0] === 'entries' ? entries.map(rehash) : entries },
        devices: devices.map((device) =>
          path[0] === 'devices' ? { ...device, entries: device.entries.map(rehash) } : device,
        ),
      };
      const findings = await found(forged);
      expect([path, findings]).toEqual([path, expect.arrayContaining([expect.objectContaining(place)])]);
    }
  });

  it('finds each value of an entry that is changed with the whole chain, the head and the seal, and no statement', async () => {
    for (const path of content) {
      const place = placeOf(path);
      const { entries, devices, ...rest } = forge(path);
      const chained = {
        ...{ ...rest, entries, devices, ...(path[0] === 'entries' ? rechain(entries) : {}) },
        ...(path[0] === 'devices' && { devices: devices.map((device) => ({ ...device, ...rechain(device.entries) })) }),
      };
      const findings = await found(resealed(chained, null));
      const placed = findings.filter(({ ledger, seq }) => ledger === place?.ledger && seq !== null && seq <= place.seq);
      expect([path, placed]).not.toEqual([path, []]);
    }
  });

  it('finds each value that is changed with the seal, by what the house has signed', async () => {
    for (const path of leaves) {
      if (path[0] === 'seal' || path[0] === 'statement') continue;
      expect([path, await found(resealed(forge(path), document.statement))]).not.toEqual([path, []]);
    }
  });
});
