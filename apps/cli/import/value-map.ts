import { TimeFormat } from './local-time.js';

/** Where a value of an event comes from: the map, or cells of a row. */
export type ValueMap =
  | { readonly kind: 'constant'; readonly value: unknown }
  | { readonly kind: 'template'; readonly parts: readonly (string | { readonly column: string })[] }
  | CellMap
  | { readonly kind: 'object'; readonly members: readonly (readonly [string, ValueMap])[] }
  | { readonly kind: 'list'; readonly items: readonly ValueMap[] };

export interface CellMap {
  readonly kind: 'cell';
  /** Several are read as one text, with spaces between. */
  readonly columns: readonly string[];
  readonly as: 'text' | 'number' | 'flag' | 'time';
  readonly format: TimeFormat;
  /** What cells stand for, where they do not stand for themselves. */
  readonly values: ReadonlyMap<string, unknown> | undefined;
  /** In place of an empty cell. */
  readonly fallback: unknown;
}

/** What reading a row needs to know besides. */
export interface RowContext {
  readonly cell: (column: string) => string;
  readonly timeZone: string;
  readonly decimal: '.' | ',';
  /** Milliseconds to be added to the time of the event, or 0. */
  readonly tie: number;
  /** Told of what cannot be read, and of what was taken for granted. */
  readonly fault: (columns: readonly string[], detail: string) => void;
  readonly note: (columns: readonly string[], detail: string) => void;
  /** Told which columns a member comes from. */
  readonly origin: (pointer: string, columns: readonly string[]) => void;
}

export interface ValueReading {
  /** Undefined where it is left out. */
  readonly value: unknown;
  /** Whether cells have a say in it, and whether any of them has something in it. */
  readonly cells: 'none' | 'empty' | 'filled';
}

/** Every column that a map looks at. */
export function columnsIn(map: ValueMap): readonly string[] {
  switch (map.kind) {
    case 'constant':
      return [];
    case 'template':
      return map.parts.flatMap((part) => (typeof part === 'string' ? [] : [part.column]));
    case 'cell':
      return map.columns;
    case 'object':
      return map.members.flatMap(([, member]) => columnsIn(member));
    case 'list':
      return map.items.flatMap(columnsIn);
  }
}
