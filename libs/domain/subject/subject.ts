import { isName, RESERVED_ASSEMBLIES } from './names.js';

/** What a tally, a hold or a limit can be about. */
export type Subject =
  | { readonly kind: 'unit'; readonly assembly: string; readonly serial: string }
  | { readonly kind: 'site'; readonly assembly: string; readonly serial: string; readonly refdes: string }
  | { readonly kind: 'device'; readonly device: string };

/** Key of an append-only ledger: `{assembly}/{serial}`, `devices/{device}` or `stations/{station}`. */
export type StreamKey = string;

export type Stream =
  | { readonly kind: 'unit'; readonly assembly: string; readonly serial: string }
  | { readonly kind: 'device'; readonly device: string }
  | { readonly kind: 'station'; readonly station: string };

export function unitKey(assembly: string, serial: string): StreamKey {
  return `${assembly}/${serial}`;
}

export function deviceKey(device: string): StreamKey {
  return `devices/${device}`;
}

/** Reads a stream key (the `subject` of a station event), or undefined where it is not one. */
export function parseStream(key: string): Stream | undefined {
  // By its slash rather than by parts: the fold asks a dozen times an event.
  const cut = key.indexOf('/');
  const [first, second] = [key.slice(0, cut), key.slice(cut + 1)];
  if (cut < 0 || !isName(first) || !isName(second)) return undefined;
  if (first === 'devices') return { kind: 'device', device: second };
  if (first === 'stations') return { kind: 'station', station: second };
  return RESERVED_ASSEMBLIES.includes(first) ? undefined : { kind: 'unit', assembly: first, serial: second };
}

/** A text that is equal for equal subjects; used to compare and to index them. */
export function subjectKey(subject: Subject): string {
  switch (subject.kind) {
    case 'unit':
      return unitKey(subject.assembly, subject.serial);
    case 'site':
      return `${unitKey(subject.assembly, subject.serial)}#${subject.refdes}`;
    case 'device':
      return deviceKey(subject.device);
  }
}

/**
 * The name of the device that came on a unit without one. It may be longer than a name that a station may give,
 * since it is made of three of them.
 */
export function anonymousDevice(assembly: string, serial: string, refdes: string): string {
  return `${assembly}:${serial}:${refdes}`;
}
