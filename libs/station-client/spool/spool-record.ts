import { crc32 } from 'node:zlib';

/** One event in the spool. */
export interface SpoolRecord {
  /** When it was put there, ms since 1970 by the clock of this machine. */
  readonly spooledAtMs: number;
  /** The event, as JSON without a line break. */
  readonly json: string;
}

/** A line of a segment file that holds a record, or bytes that do not. */
export type SpoolLine =
  | { readonly ok: true; readonly record: SpoolRecord; readonly bytes: number }
  | { readonly ok: false; readonly bytes: number; readonly text: string };

const SUM_CHARACTERS = 8;

/** `{crc32 of the rest} {ms} {json}` and a line feed. */
export function encodeRecord({ spooledAtMs, json }: SpoolRecord): string {
  const rest = `${String(spooledAtMs)} ${json}`;
  return `${sumOf(rest)} ${rest}\n`;
}

/**
 * Reads whole lines from the beginning of some bytes.
 * @returns the lines; what comes after the last line feed is not among them
 */
export function decodeLines(given: Uint8Array): SpoolLine[] {
  const bytes = Buffer.from(given.buffer, given.byteOffset, given.length);
  const lines: SpoolLine[] = [];
  for (let start = 0; ;) {
    const end = bytes.indexOf(0x0a, start);
    if (end < 0) return lines;
    lines.push(decodeLine(bytes.toString('utf8', start, end), end + 1 - start));
    start = end + 1;
  }
}

function decodeLine(text: string, bytes: number): SpoolLine {
  const rest = text.slice(SUM_CHARACTERS + 1);
  const cut = rest.indexOf(' ');
  const isSound = cut > 0 && text[SUM_CHARACTERS] === ' ' && text.slice(0, SUM_CHARACTERS) === sumOf(rest);
  if (!isSound) return { ok: false, bytes, text };
  return { ok: true, bytes, record: { spooledAtMs: Number(rest.slice(0, cut)), json: rest.slice(cut + 1) } };
}

function sumOf(text: string): string {
  return crc32(text).toString(16).padStart(SUM_CHARACTERS, '0');
}
