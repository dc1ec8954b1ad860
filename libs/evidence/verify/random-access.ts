/** A file that is read in places, so that it may be larger than memory. */
export interface RandomAccess {
  /** In bytes. */
  readonly size: number;
  /** @returns fewer bytes than asked for only at the end of the file */
  readonly read: (offset: number, length: number) => Promise<Uint8Array>;
}

/** Bytes that are in memory already, to be read like a file. */
export function inMemory(bytes: Uint8Array): RandomAccess {
  return {
    size: bytes.length,
    read: (offset, length) => Promise.resolve(bytes.subarray(offset, offset + length)),
  };
}
