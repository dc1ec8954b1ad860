import { createHash, randomUUID } from 'node:crypto';
import { Uint8ArrayReader, Uint8ArrayWriter, ZipReader } from '@zip.js/zip.js';
import { ArchiveOwner, ArchiveRecord, ArchiveUnitName } from '../../ledger/archives/archive-record.js';
import { startArchive } from '../../ledger/archives/start-archive.js';
import { AuditSource } from '../../ledger/audits/audit-source.js';
import { MemoryArchiveStore } from '../../ledger/memory/memory-archive-store.js';
import { ArchiveStore } from '../../ledger/ports/archive-store.js';
import { StoredTrace } from '../../ledger/ports/trace-store.js';
import { archiveBytes } from '../archive/archive-bytes.js';
import { ArchiveDeps } from '../archive/archive-deps.js';
import { ArchiveMaker } from '../archive/archive-maker.js';
import { auditFormats } from '../audit-formats.js';
import { sampleLedger, sampleSource, stationEntry } from './sample-source.js';

export const ANN: ArchiveOwner = { name: 'ann', via: 'session', customer: null };

/** A unit of the sample house. */
export interface SampleUnit {
  readonly entries: number;
  readonly traces?: readonly StoredTrace[];
  /** Its history cannot be opened, for this reason. */
  readonly broken?: Error;
}

/** A house that makes archives of invented units, over a store in memory or another. */
export class ArchiveBench {
  readonly units = new Map<string, SampleUnit>();
  /** Names of units in the order in which they were opened. */
  readonly opened: string[] = [];
  nowMs = Date.parse('2030-01-08T10:00:00.000Z');
  /** Called before a unit is opened. */
  beforeOpen: (name: string) => void | Promise<void> = () => undefined;
  readonly deps: ArchiveDeps;

  constructor(over: Partial<ArchiveDeps> = {}, archives: ArchiveStore = new MemoryArchiveStore()) {
    this.deps = {
      archives,
      clock: { now: () => new Date(this.nowMs).toISOString() },
      log: { info: () => undefined, warn: () => undefined, error: () => undefined },
      formats: auditFormats({ signer: over.signer ?? null }),
      signer: null,
      open: async (_reader, unit) => {
        await this.beforeOpen(nameOf(unit));
        return this.open(unit);
      },
      checkpoint: () => Promise.resolve(null),
      census: () => Promise.resolve(undefined),
      ...over,
    };
  }

  /** Adds units BRD-1/0001, 0002 and so on with as many entries each. */
  add(count: number, entries = 3): readonly ArchiveUnitName[] {
    const names = Array.from({ length: count }, (_, n) => ({
      assembly: 'BRD-1',
      serial: String(n + 1).padStart(4, '0'),
    }));
    for (const name of names) this.units.set(nameOf(name), { entries });
    return names;
  }

  async ask(
    units: readonly ArchiveUnitName[],
    { formats = [], owner = ANN }: { formats?: readonly string[]; owner?: ArchiveOwner } = {},
  ): Promise<ArchiveRecord> {
    const { archives, clock } = this.deps;
    const reads = { units: () => Promise.reject(new Error('units were named')) };
    const deps = { archives, clock, reads, newId: randomUUID };
    const record = await startArchive(deps, { owner, units, formats, since: [] });
    if (typeof record === 'string') throw new Error(`the archive was refused: ${record}`);
    return record;
  }

  /** Works as a worker of its own, until nothing is to be done. */
  async work(): Promise<void> {
    await new ArchiveMaker(this.deps).work();
  }

  async record(id: string): Promise<ArchiveRecord> {
    const record = await this.deps.archives.get(id);
    if (record === undefined) throw new Error('there is no such archive');
    return record;
  }

  /** The archive as it is downloaded, or a stretch of it. */
  async bytes(id: string, from?: number, to?: number): Promise<Buffer> {
    const pieces: Uint8Array[] = [];
    for await (const piece of archiveBytes(this.deps.archives, await this.record(id), from, to)) pieces.push(piece);
    return Buffer.concat(pieces);
  }

  private open(unit: ArchiveUnitName): AuditSource | undefined {
    const name = nameOf(unit);
    this.opened.push(name);
    const sample = this.units.get(name);
    if (sample === undefined) return undefined;
    if (sample.broken !== undefined) throw sample.broken;
    const bodies = Array.from({ length: sample.entries }, (_, n) => stationEntry(n + 1));
    const traces = sample.traces ?? [];
    return {
      ...sampleSource(sampleLedger(name, bodies).ledger),
      ...unit,
      traces: traces.map(({ csv, ...facts }) => ({ ...facts, bytes: Buffer.byteLength(csv, facts.encoding) })),
      trace: (wanted) => Promise.resolve(traces.find((trace) => trace.name === wanted)),
    };
  }
}

function nameOf({ assembly, serial }: ArchiveUnitName): string {
  return `${assembly}/${serial}`;
}

export function sampleTrace(name: string, csv: string): StoredTrace {
  const contentHash = createHash('sha256').update(csv).digest('hex');
  return { name, csv, contentHash, encoding: 'utf8', voltage: null, by: 'dress-1', at: '2030-01-07T08:00:00.000Z' };
}

/** Reads a whole archive by a reader that is not ours: names to contents, in order of the directory. */
export async function unzipped(bytes: Uint8Array): Promise<ReadonlyMap<string, Buffer>> {
  const reader = new ZipReader(new Uint8ArrayReader(bytes), { checkSignature: true, useWebWorkers: false });
  const files = new Map<string, Buffer>();
  for (const entry of await reader.getEntries()) {
    if (entry.directory || files.has(entry.filename)) throw new Error(`${entry.filename} is not one file`);
    files.set(entry.filename, Buffer.from(await entry.getData(new Uint8ArrayWriter())));
  }
  await reader.close();
  return files;
}
