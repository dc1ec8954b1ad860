import { mkdir, rm } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { SpoolFull, StationError } from '../errors.js';
import { fileTrouble } from './file-trouble.js';
import { Cursor, flushFolder, listSegments, readCursor, Segment, segmentOf, writeCursor } from './segment-files.js';
import { SegmentWriter } from './segment-writer.js';
import { readRecords, SpoolBatch, Stretch, Wanted } from './read-records.js';
import { keepDamaged, scanSegment } from './scan-segment.js';
import { lockSpool, SpoolLock } from './spool-lock.js';
import { encodeRecord } from './spool-record.js';

export interface SpoolOptions {
  /** Made where it is missing. On a disk of this machine: a network folder does not keep what it says it has kept. */
  readonly folder: string;
  /** Most that may wait, bytes. */
  readonly maxBytes: number;
  /** Size of one file, bytes, unless a single call brings more. */
  readonly segmentBytes: number;
}

/** Events on the disk, first in, first out. One process has it. Reads and settles one batch at a time. */
export class Spool {
  #pending = 0;
  #settled = 0;
  #bytes = 0;
  /** What stands at the cursor, ms since 1970. */
  #oldestMs: number | undefined;
  readonly #lock: SpoolLock;
  readonly #writer: SegmentWriter;
  /** From the one of the cursor on. */
  readonly #stretches: Stretch[] = [];
  #offset = 0;
  readonly #damaged = new Set<string>();

  private constructor(
    private readonly options: SpoolOptions,
    lock: SpoolLock,
    nextNumber: number,
  ) {
    this.#lock = lock;
    this.#writer = new SegmentWriter(options.folder, options.segmentBytes, nextNumber);
  }

  /** @throws SpoolLocked, SpoolFull, SpoolBroken */
  static async open(options: SpoolOptions): Promise<Spool> {
    const { folder } = options;
    try {
      const made = await mkdir(folder, { recursive: true });
      // A folder whose name is not on the disk would take the events with it.
      for (const parent of made === undefined ? [] : [made, resolve(folder)]) await flushFolder(dirname(parent));
      const lock = await lockSpool(folder);
      try {
        const [cursor, segments] = [await readCursor(folder), await listSegments(folder)];
        const last = Math.max(0, segmentOf(cursor?.segment ?? '')?.number ?? 0, segments.at(-1)?.number ?? 0);
        const spool = new Spool(options, lock, last + 1);
        await spool.#recover(segments, cursor);
        return spool;
      } catch (error) {
        await lock.release();
        throw error;
      }
    } catch (error) {
      throw fileTrouble(error, 'opening it', folder);
    }
  }

  get folder(): string {
    return this.options.folder;
  }

  /** Events that wait. */
  get pending(): number {
    return this.#pending;
  }

  /** Events that were settled since it was opened. */
  get settled(): number {
    return this.#settled;
  }

  /** Bytes that wait. */
  get bytes(): number {
    return this.#bytes;
  }

  /** When the one that waits longest was put here, ms since 1970. */
  get oldestMs(): number | undefined {
    return this.#oldestMs;
  }

  /** Files with lines that did not fit their checksum any more and could not be sent. */
  get damaged(): readonly string[] {
    return [...this.#damaged];
  }

  /** Why it may no longer be used, if so. */
  lost(): StationError | undefined {
    return this.#lock.lost();
  }

  /**
   * Puts events at the end, all of them or none. Resolves when they are on the disk.
   * @throws SpoolFull, SpoolBroken, SpoolLocked, Closed
   */
  async append(jsons: readonly string[]): Promise<void> {
    const lost = this.lost();
    if (lost !== undefined) throw lost;
    const spooledAtMs = Date.now();
    const text = jsons.map((json) => encodeRecord({ spooledAtMs, json })).join('');
    const bytes = Buffer.byteLength(text);
    if (this.#bytes + bytes > this.options.maxBytes) {
      throw new SpoolFull(
        `The spool ${this.folder} holds ${String(this.#pending)} events in ${String(this.#bytes)} bytes and may take no more than ${String(this.options.maxBytes)}. ` +
          'Nothing was kept of this call: see to it that Heatbook can be reached, and post it again.',
      );
    }
    this.#bytes += bytes;
    try {
      const { segment, end } = await this.#writer.append(text);
      const last = this.#stretches.at(-1);
      if (last?.segment.name !== segment.name) this.#stretches.push({ segment, end });
      else last.end = end;
    } catch (error) {
      this.#bytes -= bytes;
      throw error;
    }
    this.#pending += jsons.length;
    this.#oldestMs ??= spooledAtMs;
  }

  /**
   * The records that are next in line: one at least, and no more than fit. Undefined where nothing waits.
   * @throws SpoolBroken
   */
  async next(wanted: Wanted): Promise<SpoolBatch | undefined> {
    try {
      return await readRecords(this.folder, this.#stretches, this.#offset, wanted, async (segment, at, text) => {
        const known = this.#damaged.size;
        this.#damaged.add(await keepDamaged(this.folder, segment, at, text));
        // It was counted as one that waits unless it was found when the spool was opened.
        if (this.#damaged.size > known) this.#pending -= 1;
      });
    } catch (error) {
      throw fileTrouble(error, 'reading', this.folder);
    }
  }

  /** Takes a batch for delivered: its records are not given again, and files that are done with are removed. */
  async settle({ records, bytes, next }: SpoolBatch): Promise<void> {
    const done = this.#stretches.findIndex(({ segment }) => segment.name === next.segment);
    const left = this.#stretches.splice(0, done);
    this.#offset = next.offset;
    this.#pending -= records.length;
    this.#settled += records.length;
    this.#bytes -= bytes;
    // Without it, or with files that stay, the same is sent once more after a crash, and answered as a duplicate.
    await writeCursor(this.folder, next).catch(() => undefined);
    for (const { segment } of left) await rm(join(this.folder, segment.name), { force: true }).catch(() => undefined);
    await this.#lookAtOldest();
  }

  async close(): Promise<void> {
    await this.#writer.close();
    if (this.#pending === 0 && this.lost() === undefined) {
      for (const { segment } of this.#stretches) await rm(join(this.folder, segment.name), { force: true });
    }
    await this.#lock.release();
  }

  async #lookAtOldest(): Promise<void> {
    // What is appended meanwhile may set it, and is younger than anything that is found.
    this.#oldestMs = undefined;
    const found = await this.next({ maxEvents: 1, maxBytes: 0 });
    this.#oldestMs = found?.records[0]?.spooledAtMs ?? this.#oldestMs;
  }

  async #recover(segments: readonly Segment[], cursor: Cursor | undefined): Promise<void> {
    const from = segmentOf(cursor?.segment ?? '');
    for (const segment of segments) {
      const isAtCursor = segment.name === from?.name;
      if (from !== undefined && !isAtCursor && segment.number < from.number) {
        await rm(join(this.folder, segment.name), { force: true });
        continue;
      }
      const start = isAtCursor ? (cursor?.offset ?? 0) : 0;
      const { end, events, damaged } = await scanSegment(this.folder, segment, start);
      for (const file of damaged) this.#damaged.add(file);
      if (events === 0 && damaged.length === 0) {
        await rm(join(this.folder, segment.name), { force: true });
        continue;
      }
      if (this.#stretches.length === 0) this.#offset = start;
      this.#stretches.push({ segment, end });
      this.#pending += events;
      this.#bytes += end - start;
    }
    await this.#lookAtOldest();
  }
}
