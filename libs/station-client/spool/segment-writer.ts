import { type FileHandle, open, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { Closed } from '../errors.js';
import { fileTrouble } from './file-trouble.js';
import { flushFolder, newSegment, Segment } from './segment-files.js';

/** Where a group of records has come to lie. */
export interface Written {
  readonly segment: Segment;
  /** The length of the segment with them. */
  readonly end: number;
}

interface Waiting {
  readonly text: string;
  readonly resolve: (written: Written) => void;
  readonly reject: (error: unknown) => void;
}

interface OpenSegment {
  readonly segment: Segment;
  readonly handle: FileHandle;
  /** Of what is on the disk for certain. */
  length: number;
}

/** Most of what is written by one call of the system, bytes or little more. */
const GROUP_BYTES = 8 * 1024 * 1024;

/**
 * Appends to segments, one group at a time: whatever is asked for while the disk is busy is written and flushed together. Older
 * segments are never opened again for writing, so that what a crash has left at their end harms nothing.
 */
export class SegmentWriter {
  #open: OpenSegment | undefined;
  #waiting: Waiting[] = [];
  #isClosed = false;
  #working: Promise<void> | undefined;

  /** @param nextNumber of the first segment that it makes */
  constructor(
    private readonly folder: string,
    private readonly segmentBytes: number,
    private nextNumber: number,
  ) {}

  /**
   * Resolves when the text is on the disk.
   * @throws SpoolFull, SpoolBroken: then nothing of it is there
   */
  append(text: string): Promise<Written> {
    if (this.#isClosed) return Promise.reject(new Closed());
    return new Promise((resolve, reject) => {
      this.#waiting.push({ text, resolve, reject });
      this.#working ??= this.#work();
    });
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    await this.#working;
    await this.#leave();
  }

  async #work(): Promise<void> {
    // Lets those that post in the same turn be written together.
    await Promise.resolve();
    while (this.#waiting.length > 0) {
      const group = this.#takeGroup();
      try {
        const written = await this.#write(Buffer.from(group.map(({ text }) => text).join('')));
        for (const { resolve } of group) resolve(written);
      } catch (error) {
        const trouble = fileTrouble(error, 'writing', this.folder);
        for (const { reject } of group) reject(trouble);
      }
    }
    this.#working = undefined;
  }

  #takeGroup(): Waiting[] {
    let length = 0;
    const most = this.#waiting.findIndex(({ text }, n) => (length += text.length) > GROUP_BYTES && n > 0);
    return this.#waiting.splice(0, most < 0 ? this.#waiting.length : most);
  }

  async #write(bytes: Buffer): Promise<Written> {
    if (this.#open !== undefined && this.#open.length + bytes.length > this.segmentBytes) await this.#leave();
    const current = (this.#open ??= await this.#begin());
    const { handle, segment, length } = current;
    try {
      for (let done = 0; done < bytes.length;) {
        done += (await handle.write(bytes, done, bytes.length - done, length + done)).bytesWritten;
      }
      await handle.datasync();
    } catch (error) {
      await this.#takeBack(current);
      throw error;
    }
    current.length = length + bytes.length;
    return { segment, end: current.length };
  }

  async #begin(): Promise<OpenSegment> {
    const segment = newSegment(this.nextNumber);
    const file = join(this.folder, segment.name);
    const handle = await open(file, 'wx');
    try {
      await flushFolder(this.folder);
    } catch (error) {
      await handle.close();
      await rm(file, { force: true });
      throw error;
    }
    this.nextNumber += 1;
    return { segment, handle, length: 0 };
  }

  /** After a flush that failed nobody knows what is on the disk, so the segment is cut to what was, and left. */
  async #takeBack({ handle, segment, length }: OpenSegment): Promise<void> {
    await handle.truncate(length).catch(() => undefined);
    await handle.datasync().catch(() => undefined);
    await this.#leave();
    if (length === 0) await rm(join(this.folder, segment.name), { force: true }).catch(() => undefined);
  }

  async #leave(): Promise<void> {
    const { handle } = this.#open ?? {};
    this.#open = undefined;
    await handle?.close().catch(() => undefined);
  }
}
