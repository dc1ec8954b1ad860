import { HASH_BYTES } from '../../ledger/log/merkle/hashing.js';
import { fromHex } from '../../ledger/log/notes/hex.js';

/** A member of a file is not what it should be. The message goes on after the name of the file. */
export class Malformed extends Error {
  override readonly name = 'Malformed';

  /** @param pointer RFC 6901 */
  constructor(pointer: string, problem: string) {
    super(`${pointer === '' ? 'it' : pointer} ${problem}`);
  }
}

/** Members of an object that came out of a file, each read as what it has to be. Every method throws `Malformed`. */
export class Members {
  private constructor(
    readonly values: Readonly<Record<string, unknown>>,
    /** Where the object stands in the file. */
    readonly pointer: string,
  ) {}

  static of(value: unknown, pointer: string): Members {
    const record = asRecord(value);
    if (record === null) throw new Malformed(pointer, 'is no object');
    return new Members(record, pointer);
  }

  /** The member as it is; undefined where there is none. */
  any(name: string): unknown {
    return Object.hasOwn(this.values, name) ? this.values[name] : undefined;
  }

  /** The member, of which nothing is asked but that it is there. */
  present(name: string): unknown {
    if (!Object.hasOwn(this.values, name)) throw this.malformed(name, 'is missing');
    return this.values[name];
  }

  text(name: string): string {
    const value = this.any(name);
    if (typeof value !== 'string') throw this.malformed(name, 'is no text');
    return value;
  }

  textOrNull(name: string): string | null {
    return this.present(name) === null ? null : this.text(name);
  }

  /** A whole number from 0 to 2^53 - 1. */
  count(name: string): number {
    const value = this.any(name);
    if (typeof value !== 'number' || !Number.isSafeInteger(value) || value < 0) {
      throw this.malformed(name, 'is no whole number from 0');
    }
    return value;
  }

  /** SHA-256 in lower-case hex. */
  hash(name: string): string {
    const value = this.text(name);
    if (!fromHex(value, HASH_BYTES)) throw this.malformed(name, 'is no SHA-256 in lower-case hex');
    return value;
  }

  list(name: string, most = Infinity): readonly unknown[] {
    const value = this.any(name);
    if (!Array.isArray(value)) throw this.malformed(name, 'is no list');
    if (value.length > most) throw this.malformed(name, `has ${value.length} items; at most ${most} are read`);
    return value;
  }

  /** A list of texts. */
  texts(name: string, most = Infinity): string[] {
    return this.list(name, most).map((value, index) => {
      if (typeof value !== 'string') throw this.malformed(`${name}/${index}`, 'is no text');
      return value;
    });
  }

  /** A list of objects. */
  each(name: string, most = Infinity): Members[] {
    return this.list(name, most).map((value, index) => Members.of(value, `${this.pointer}/${name}/${index}`));
  }

  /** A list of SHA-256 in lower-case hex, as bytes. */
  hashes(name: string, most: number): Uint8Array[] {
    return this.list(name, most).map((value, index) => {
      const bytes = typeof value === 'string' ? fromHex(value, HASH_BYTES) : undefined;
      if (!bytes) throw this.malformed(`${name}/${index}`, 'is no SHA-256 in lower-case hex');
      return bytes;
    });
  }

  members(name: string): Members {
    return Members.of(this.present(name), `${this.pointer}/${name}`);
  }

  malformed(name: string, problem: string): Malformed {
    return new Malformed(`${this.pointer}/${name}`, problem);
  }
}

/** The value as an object with named members, or null. */
export function asRecord(value: unknown): Readonly<Record<string, unknown>> | null {
  return isRecord(value) ? value : null;
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
