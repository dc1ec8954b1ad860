import { ArchiveUnitName } from './archive-record.js';

/** Names that some file systems keep for devices, whatever their extension. */
const DEVICE_NAME = /^(con|prn|aux|nul|com[0-9]|lpt[0-9])(\.|$)/i;

/**
 * A name of the book as a file or folder may be called on every file system: a colon, a dot at either end and the first
 * letter of a name that is kept for devices become `%` and two hex digits. No name of the book holds a `%` or a `~`, so two
 * names never become one.
 */
export function safeName(name: string): string {
  const plain = name.replaceAll(':', '%3A').replace(/^\./, '%2E').replace(/\.$/, '%2E');
  if (!DEVICE_NAME.test(plain)) return plain;
  return `%${plain.charCodeAt(0).toString(16).toUpperCase()}${plain.slice(1)}`;
}

/** A path as a file system that does not tell capitals from small letters takes it. */
export function foldedPath(path: string): string {
  return path.toLowerCase();
}

/** The path, or what it is called where it is the n-th that differs from others by capitals alone; `n` from 1. */
export function nthPath(path: string, n: number): string {
  return n === 1 ? path : `${path}~${String(n)}`;
}

/**
 * Where the files of each unit stand, without extension. Units that differ by capitals alone are told apart by a number, so
 * that unpacking loses nothing where the file system takes them for one.
 */
export function unitPaths(units: readonly ArchiveUnitName[]): readonly string[] {
  const seen = new Map<string, number>();
  return units.map(({ assembly, serial }) => {
    const path = `units/${safeName(assembly)}/${safeName(serial)}`;
    const nth = (seen.get(foldedPath(path)) ?? 0) + 1;
    seen.set(foldedPath(path), nth);
    return nthPath(path, nth);
  });
}
