import { isUtf8 } from 'node:buffer';
import { StoredTrace } from '../ports/trace-store.js';

/**
 * Reads the bytes of a file as text that gives the same bytes back: UTF-8, UTF-16 where a byte order mark says so, else one
 * character a byte. Logger software of many years writes the degree sign as the single byte B0.
 */
export function traceText(bytes: Buffer): Pick<StoredTrace, 'csv' | 'encoding'> {
  const encoding = encodingOf(bytes);
  return { csv: bytes.toString(encoding), encoding };
}

/** The bytes as they came. */
export function traceBytes({ csv, encoding }: Pick<StoredTrace, 'csv' | 'encoding'>): Buffer {
  return Buffer.from(csv, encoding);
}

function encodingOf(bytes: Buffer): StoredTrace['encoding'] {
  // Half a character at the end would not come back.
  const utf16 = bytes[0] === 0xff && bytes[1] === 0xfe && bytes.length % 2 === 0;
  if (utf16) return 'utf16le';
  return isUtf8(bytes) ? 'utf8' : 'latin1';
}
