import { createHash, generateKeyPairSync } from 'node:crypto';
import { compactVerify } from 'jose';
import { BrokenLedger } from '../../ledger/audits/broken-ledger.js';
import { MOST_ATTEMPTS } from '../../ledger/archives/archive-bounds.js';
import { canonicalJson } from '../canonical-json.js';
import { nodeSigner } from '../log/node-signer.js';
import { ArchiveMaker } from './archive-maker.js';
import { ANN, ArchiveBench, sampleTrace, unzipped } from '../spec-support/archive-bench.js';

interface Manifest {
  readonly wanted: number;
  readonly units: readonly { assembly: string; serial: string; count: number; headHash: string; files: string[] }[];
  readonly missing: readonly { assembly: string; serial: string }[];
  readonly files: readonly { name: string; bytes: number; sha256: string }[];
  readonly counts: Readonly<Record<string, number>>;
  readonly checkpoint: string | null;
}

function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

function manifestIn(files: ReadonlyMap<string, Buffer>): Manifest {
  return JSON.parse(String(files.get('manifest.json'))) as Manifest;
}

describe('an archive', () => {
  it('holds each unit in each format, with a manifest of everything that is in it', async () => {
    const bench = new ArchiveBench();
    const units = bench.add(3);
    const { id } = await bench.ask(units, { formats: ['csv'] });
    await bench.work();
    const record = await bench.record(id);
    const bytes = await bench.bytes(id);
    expect(record).toMatchObject({ state: 'done', done: 3, missing: 0, entries: 9, bytes: bytes.length });
    const files = await unzipped(bytes);
    expect([...files.keys()]).toEqual([
      ...['0001', '0002', '0003'].flatMap((serial) => [
        `units/BRD-1/${serial}.csv`,
        `units/BRD-1/${serial}.audit.json`,
      ]),
      'README.txt',
      'manifest.json',
    ]);
    const manifest = manifestIn(files);
    expect(String(files.get('manifest.json'))).toBe(canonicalJson(manifest));
    expect(record.manifestHash).toBe(sha256(files.get('manifest.json') ?? Buffer.alloc(0)));
    expect(manifest).toMatchObject({
      ...{ format: 'heatbook-archive', version: 1, id, createdAt: record.requestedAt, wanted: 3, missing: [] },
      counts: { units: 3, missing: 0, entries: 9, files: 7 },
      checkpoint: null,
    });
    const listed = [...files].filter(([name]) => name !== 'manifest.json');
    expect(manifest.files).toEqual(
      listed.map(([name, content]) => ({ name, bytes: content.length, sha256: sha256(content) })),
    );
    expect(manifest.counts['bytes']).toBe(listed.reduce((sum, [, content]) => sum + content.length, 0));
    for (const { serial, count, headHash, files: names } of manifest.units) {
      expect(names).toEqual([`units/BRD-1/${serial}.csv`, `units/BRD-1/${serial}.audit.json`]);
      const audit = JSON.parse(String(files.get(names[1] ?? ''))) as Record<string, unknown>;
      expect(audit).toMatchObject({ assembly: 'BRD-1', serial, count, headHash });
    }
  });

  it('names units that are missing, and says so in plain words', async () => {
    const bench = new ArchiveBench();
    bench.add(1);
    const wanted = ['0001', '0000', 'XX'].map((serial) => ({ assembly: 'BRD-1', serial }));
    const { id } = await bench.ask(wanted, { owner: { ...ANN, customer: 'Thimblewick' } });
    await bench.work();
    const files = await unzipped(await bench.bytes(id));
    expect(manifestIn(files)).toMatchObject({
      wanted: 3,
      units: [{ serial: '0001' }],
      missing: [
        { assembly: 'BRD-1', serial: '0000' },
        { assembly: 'BRD-1', serial: 'XX' },
      ],
    });
    expect(String(files.get('README.txt'))).toMatch(/asked for: 3\. .* here: 1\. Missing: 2\./);
    expect(String(files.get('README.txt'))).toContain('made for a customer');
    expect(await bench.record(id)).toMatchObject({ done: 3, missing: 2 });
  });

  it('has each trace once, as it was uploaded, under names that no file system confuses', async () => {
    const bench = new ArchiveBench();
    const traces = { loud: sampleTrace('RUN:1', 's,A\n0,25\n'), soft: sampleTrace('run:1', 's,A\n0,26\n') };
    bench.units.set('BRD-1/con', { entries: 1, traces: [traces.loud, traces.soft] });
    bench.units.set('BRD-1/a.', { entries: 1, traces: [traces.soft] });
    bench.units.set('brd-1/CON', { entries: 1, traces: [traces.loud] });
    const units = [...bench.units.keys()].map((name) => ({
      assembly: name.split('/')[0] ?? '',
      serial: name.split('/')[1] ?? '',
    }));
    const { id } = await bench.ask(units);
    await bench.work();
    const files = await unzipped(await bench.bytes(id));
    expect([...files.keys()].sort()).toEqual([
      'README.txt',
      'manifest.json',
      'traces/RUN%3A1~2.csv',
      'traces/run%3A1.csv',
      'units/BRD-1/%63on.audit.json',
      'units/BRD-1/a%2E.audit.json',
      'units/brd-1/%43ON.audit.json',
    ]);
    expect(String(files.get('traces/RUN%3A1~2.csv'))).toBe(traces.loud.csv);
    expect(String(files.get('traces/run%3A1.csv'))).toBe(traces.soft.csv);
    expect(new Set([...files.keys()].map((name) => name.toLowerCase())).size).toBe(files.size);
  });

  it('is signed over its manifest where the house has a key, and carries the newest checkpoint', async () => {
    const { privateKey, publicKey } = generateKeyPairSync('ed25519');
    const pem = privateKey.export({ type: 'pkcs8', format: 'pem' }).toString();
    const signer = nodeSigner(pem, 'heatbook/spec');
    const bench = new ArchiveBench({ signer, checkpoint: () => Promise.resolve('heatbook/spec\n1\nx\n') });
    const { id } = await bench.ask(bench.add(1));
    await bench.work();
    const files = await unzipped(await bench.bytes(id));
    expect([...files.keys()].slice(1)).toEqual(['README.txt', 'checkpoint.txt', 'manifest.json', 'manifest.jws']);
    const { payload, protectedHeader } = await compactVerify(String(files.get('manifest.jws')), publicKey);
    expect(Buffer.from(payload)).toEqual(files.get('manifest.json'));
    expect(protectedHeader).toEqual({ alg: 'EdDSA', kid: signer.vkey });
    expect(manifestIn(files).checkpoint).toBe(String(files.get('checkpoint.txt')));
    expect(String(files.get('README.txt'))).toContain(signer.vkey);
  });

  it('cannot be opened when it was cut off, wherever', async () => {
    const bench = new ArchiveBench();
    const { id } = await bench.ask(bench.add(2));
    await bench.work();
    const bytes = await bench.bytes(id);
    for (const share of [0.1, 0.5, 0.9, 1]) {
      await expect(unzipped(bytes.subarray(0, Math.floor(bytes.length * share) - 1))).rejects.toThrow();
    }
  });

  it('gives any stretch of itself', async () => {
    const bench = new ArchiveBench();
    const { id } = await bench.ask(bench.add(3));
    await bench.work();
    const bytes = await bench.bytes(id);
    const cuts = Array.from({ length: 23 }, (_, n) => Math.floor((n * bytes.length) / 22));
    for (const from of cuts) {
      for (const to of cuts.filter((cut) => cut > from)) {
        expect((await bench.bytes(id, from, to)).equals(bytes.subarray(from, to))).toBe(true);
      }
    }
  });
});

describe('making an archive', () => {
  it('goes on after the last whole unit when it was stopped in the middle', async () => {
    const bench = new ArchiveBench();
    const units = bench.add(5);
    const { id } = await bench.ask(units);
    const maker = new ArchiveMaker(bench.deps);
    let stopped: Promise<void> = Promise.resolve();
    bench.beforeOpen = (name) => {
      if (name === 'BRD-1/0003') stopped = maker.stop();
    };
    await maker.work();
    await stopped;
    expect(await bench.record(id)).toMatchObject({ state: 'waiting', done: 2, attempts: 0 });
    bench.beforeOpen = () => undefined;
    await bench.work();
    expect(bench.opened).toEqual(['0001', '0002', '0003', '0003', '0004', '0005'].map((serial) => `BRD-1/${serial}`));
    expect(manifestIn(await unzipped(await bench.bytes(id))).units).toHaveLength(5);
  });

  it('is done by one of two workers, and each archive but once', async () => {
    const bench = new ArchiveBench();
    const units = bench.add(4);
    const asked = [await bench.ask(units), await bench.ask(units)];
    await Promise.all([bench.work(), bench.work()]);
    expect(bench.opened).toHaveLength(8);
    for (const { id } of asked) expect(manifestIn(await unzipped(await bench.bytes(id))).units).toHaveLength(4);
  });

  it('goes on by another worker when the first has fallen silent, and lets the first do nothing more', async () => {
    const bench = new ArchiveBench();
    const { id } = await bench.ask(bench.add(4));
    let wake: () => void = () => undefined;
    const asleep = new Promise<void>((resolve) => {
      wake = resolve;
    });
    let reached: () => void = () => undefined;
    const there = new Promise<void>((resolve) => {
      reached = resolve;
    });
    bench.beforeOpen = (name) => {
      if (name !== 'BRD-1/0002') return undefined;
      bench.beforeOpen = () => undefined;
      reached();
      return asleep;
    };
    const first = bench.work();
    await there;
    await bench.work();
    expect(await bench.record(id)).toMatchObject({ state: 'running', done: 1 });
    bench.nowMs += 60_000;
    await bench.work();
    const bytes = await bench.bytes(id);
    wake();
    await first;
    expect((await bench.bytes(id)).equals(bytes)).toBe(true);
    expect(manifestIn(await unzipped(bytes)).units).toHaveLength(4);
  });

  it('stops when it is cancelled meanwhile', async () => {
    const bench = new ArchiveBench();
    const { id } = await bench.ask(bench.add(3));
    bench.beforeOpen = async (name) => {
      if (name === 'BRD-1/0002') await bench.deps.archives.cancel(id, bench.deps.clock.now(), bench.deps.clock.now());
    };
    await bench.work();
    expect(bench.opened).toEqual(['BRD-1/0001', 'BRD-1/0002']);
    expect(await bench.record(id)).toMatchObject({ state: 'cancelled', done: 1 });
  });

  it('fails at once, naming the unit, where a ledger does not hold together', async () => {
    const bench = new ArchiveBench();
    const units = bench.add(3);
    bench.units.set('BRD-1/0002', { entries: 3, broken: new BrokenLedger('BRD-1/0002', 'it ends with entry 1 of 3') });
    const { id } = await bench.ask(units);
    await bench.work();
    const record = await bench.record(id);
    expect(record).toMatchObject({ state: 'failed', done: 1, manifestHash: null });
    expect(record.failure).toMatch(/^BRD-1\/0002: .*ends with entry 1 of 3/);
    expect(record.expiresAt).not.toBeNull();
  });

  it('tries again a few times where something else is wrong, and then gives up', async () => {
    const bench = new ArchiveBench();
    const units = bench.add(2);
    bench.units.set('BRD-1/0001', { entries: 1, broken: new Error('the database is away') });
    const { id } = await bench.ask(units);
    for (let attempt = 1; attempt <= MOST_ATTEMPTS; attempt += 1) {
      await bench.work();
      // Not again at once.
      await bench.work();
      expect(await bench.record(id)).toMatchObject({
        ...{ state: attempt < MOST_ATTEMPTS ? 'waiting' : 'failed', attempts: attempt },
        failure: 'BRD-1/0001: the database is away',
      });
      bench.nowMs += 60_000;
    }
    await bench.work();
    expect(bench.opened).toHaveLength(MOST_ATTEMPTS);
  });

  it('mends by itself what was wrong for a while', async () => {
    const bench = new ArchiveBench();
    const { id } = await bench.ask(bench.add(2));
    bench.units.set('BRD-1/0002', { entries: 1, broken: new Error('the database is away') });
    await bench.work();
    bench.add(2);
    bench.nowMs += 60_000;
    await bench.work();
    expect(await bench.record(id)).toMatchObject({ state: 'done', failure: null, done: 2 });
  });

  it('does not take for whole a trace that is not what was uploaded', async () => {
    const bench = new ArchiveBench();
    const forged = { ...sampleTrace('T1', 's,A\n0,25\n'), csv: 's,A\n0,99\n' };
    bench.units.set('BRD-1/0001', { entries: 1, traces: [forged] });
    const { id } = await bench.ask([{ assembly: 'BRD-1', serial: '0001' }]);
    await bench.work();
    expect((await bench.record(id)).failure).toMatch(/^BRD-1\/0001: Trace T1 is not what was uploaded/);
  });
});
