import { STATION_EVENT_TYPES, StationEventType } from '../../../libs/domain/events/station-event.js';
import { ValueMap } from './value-map.js';

/** Columns and what a row has to have in them; an empty text stands for an empty cell. */
export type RowCondition = ReadonlyMap<string, readonly string[]>;

/** One event that rows stand for. */
export interface EventRule {
  readonly type: StationEventType;
  /** Rows that it is made of; all of them where there is no condition. */
  readonly when: RowCondition;
  readonly station: ValueMap;
  readonly subject: ValueMap;
  readonly time: ValueMap;
  readonly data: ValueMap;
}

/** How the rows of a spreadsheet log become events. */
export interface ImportMap {
  readonly encoding: string;
  /** Found in the first line where it is left out. */
  readonly delimiter: string | undefined;
  /** Counted from 1. */
  readonly headerRow: number;
  readonly decimal: '.' | ',';
  readonly timeZone: string;
  /** What names a row for ever; its content where it is left out. */
  readonly id: ValueMap | undefined;
  /** Rows that stand for nothing. */
  readonly skip: readonly RowCondition[];
  readonly events: readonly EventRule[];
  /** Every column that the map looks at, with where in the map it stands. */
  readonly columns: ReadonlyMap<string, string>;
}

/** The type of an event without `heatbook.` and `.v1`, as maps and ids name it. */
export function shortType(type: string): string {
  return type.replace(/^heatbook\.|\.v1$/g, '');
}

export function typeNamed(name: string): StationEventType | undefined {
  return STATION_EVENT_TYPES.find((type) => type === name || shortType(type) === name);
}
