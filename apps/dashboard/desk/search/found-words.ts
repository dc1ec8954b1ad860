import type { Schemas } from '../api/client.js';
import { paths } from '../paths.js';

export type FoundItem = Schemas['FoundItem'];
export type FoundKind = FoundItem['kind'];

/** Headings of what is found, in the order of the answer. */
const FOUND_KINDS = [
  ['unit', 'Units'],
  ['device', 'Devices'],
  ['assembly', 'Assemblies'],
  ['station', 'Stations'],
  ['operator', 'Operators'],
  ['profile', 'Profiles'],
  ['hold', 'Holds'],
] as const satisfies readonly (readonly [FoundKind, string])[];

/** Where a find leads; undefined where it has no page. */
export function pathOf({ kind, name, assembly, serial, device }: FoundItem): string | undefined {
  switch (kind) {
    case 'unit':
      return assembly === undefined || serial === undefined ? undefined : paths.unit(assembly, serial);
    case 'device':
      return paths.device(device ?? name);
    case 'assembly':
      return `${paths.units}?${new URLSearchParams({ assembly: name }).toString()}`;
    case 'station':
      return paths.station(name);
    case 'operator':
      return `${paths.people}#operator-${encodeURIComponent(name)}`;
    case 'hold':
      return paths.hold(name);
    case 'profile':
      return undefined;
  }
}

/** The find's names, any of which may have been meant as a whole. */
function wholeNames({ kind, name, serial, device }: FoundItem): readonly string[] {
  if (kind === 'unit') return serial === undefined ? [name] : [name, serial];
  if (kind === 'device') return [device ?? name, `devices/${device ?? name}`];
  return kind === 'station' ? [name, `stations/${name}`] : [name];
}

/** `A-1 0103`, `A-1 / 0103` and `a-1/0103` are one. */
function spelledOut(text: string): string {
  return text
    .trim()
    .replace(/\s*\/\s*|\s+/g, '/')
    .toUpperCase();
}

/** Whether a find is named exactly as was asked, rather than only beginning so. */
export function isWhole(item: FoundItem, asked: string): boolean {
  const wanted = spelledOut(asked);
  return wholeNames(item).some((name) => spelledOut(name) === wanted);
}

/**
 * Where to go at once: to the page of the one find that is named exactly as was asked. With two of them, such as one serial of two
 * assemblies, somebody has to choose.
 */
export function onlyPath(items: readonly FoundItem[], asked: string): string | undefined {
  const [first, ...others] = items.filter((item) => isWhole(item, asked));
  return first === undefined || others.length > 0 ? undefined : pathOf(first);
}

/** Finds by kind, in the order of the headings; kinds of which there is none are left out. */
export function byKind(
  items: readonly FoundItem[],
): readonly { readonly title: string; readonly items: readonly FoundItem[] }[] {
  return FOUND_KINDS.map(([kind, title]) => ({ title, items: items.filter((item) => item.kind === kind) })).filter(
    (group) => group.items.length > 0,
  );
}
