import { Face } from './page-style.js';

/** A paragraph: its text and how it is set. */
export interface Block {
  readonly text: string;
  readonly face?: Face;
  /** Points. */
  readonly size?: number;
  readonly ink?: string;
}

/** A line that is ready to be drawn. Heights in points. */
export interface LaidLine extends Required<Block> {
  readonly height: number;
}
