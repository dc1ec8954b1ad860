import { StreamKey } from '../../domain/subject/subject.js';

/** Something that is kept otherwise than the entries say. */
export interface Difference {
  /** The ledger concerned, or what else it is about: `inbox`, `log`, `marks`. */
  readonly subject: StreamKey;
  readonly what: string;
  readonly kept: string;
  readonly recomputed: string;
}

/** Takes differences one by one, so that however many there are need no memory. */
export type Tell = (difference: Difference) => void;

const MOST_CHARACTERS = 160;

/** A value in one short line. */
export function inShort(value: unknown): string {
  const text = value === undefined ? 'nothing' : typeof value === 'string' ? value : JSON.stringify(value);
  return text.length > MOST_CHARACTERS ? `${text.slice(0, MOST_CHARACTERS)}…` : text;
}
