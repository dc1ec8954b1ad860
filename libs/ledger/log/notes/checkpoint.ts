import { HASH_BYTES } from '../merkle/hashing.js';
import { fromBase64, toBase64 } from './base64.js';
import { isKeyName } from './verifier-key.js';

/** Head of a log: how many leaves it has, and the root over them. */
export interface Checkpoint {
  /** Name of the log. */
  readonly origin: string;
  readonly size: number;
  readonly root: Uint8Array;
}

/**
 * The text that is signed as a checkpoint (C2SP tlog-checkpoint, Note text): origin, size and root in base64, a line each.
 * @throws RangeError where one of them cannot stand there
 */
export function checkpointText({ origin, size, root }: Checkpoint): string {
  const text = `${origin}\n${size}\n${toBase64(root)}\n`;
  if (!parseCheckpoint(text)) {
    throw new RangeError(
      `No checkpoint can be made of "${origin}" with ${size} leaves and a root of ${root.length} bytes: the origin has ` +
        'no white space and no plus, the size is a whole number from 0, the root has 32 bytes.',
    );
  }
  return text;
}

/**
 * Reads the text of a checkpoint. Lines after the third are passed over, as C2SP tlog-checkpoint asks, but may not be
 * empty. Undefined for what is no checkpoint of a log whose origin can name a key.
 */
export function parseCheckpoint(text: string): Checkpoint | undefined {
  if (!text.endsWith('\n')) return undefined;
  const lines = text.slice(0, -1).split('\n');
  const [origin = '', digits = '', encoded = ''] = lines;
  const root = fromBase64(encoded);
  if (lines.length < 3 || lines.includes('') || !isKeyName(origin) || root?.length !== HASH_BYTES) return undefined;
  const size = /^(?:0|[1-9]\d{0,15})$/.test(digits) ? Number(digits) : NaN;
  return Number.isSafeInteger(size) ? { origin, size, root } : undefined;
}
