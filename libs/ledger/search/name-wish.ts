/** What a typed or scanned text asks for. */
export interface NameWish {
  /** The beginning of a name; of a serial where an assembly is given. */
  readonly name: string;
  readonly assembly?: string;
  /** Where the text says it, as subjects of events do: `devices/…`, `stations/…`. */
  readonly only?: 'device' | 'station';
}

const NAME_LETTERS = /^[A-Za-z0-9._:-]*$/;

/**
 * Reads `name`, `assembly/serial`, `assembly serial`, `devices/device` or `stations/station`.
 * @returns undefined for what can be the name of nothing
 */
export function readNameWish(text: string): NameWish | undefined {
  const [first = '', second, ...others] = text.split(/\s*\/\s*|\s+/);
  if (first === '' || others.length > 0 || !NAME_LETTERS.test(first) || !NAME_LETTERS.test(second ?? '')) {
    return undefined;
  }
  if (second === undefined) return { name: first };
  if (first === 'devices') return { name: second, only: 'device' };
  if (first === 'stations') return { name: second, only: 'station' };
  return { name: second, assembly: first };
}
