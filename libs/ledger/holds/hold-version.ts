import { Seal } from '../ports/seal.js';
import { HoldRecord } from './hold-record.js';

/** A text that changes with anything about a hold: 32 hexadecimal digits of a SHA-256. */
export function holdVersion(seal: Pick<Seal, 'canonical' | 'sha256Hex'>, hold: HoldRecord): string {
  return seal.sha256Hex(seal.canonical(hold)).slice(0, 32);
}
