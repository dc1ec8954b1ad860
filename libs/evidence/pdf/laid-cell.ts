import { Block, LaidLine } from './laid-text.js';

/** A small drawing below the text of a cell that says no more than the text does. */
export interface CellDrawing {
  /** Points. */
  readonly height: number;
  readonly draw: (x: number, top: number, width: number) => void;
}

export type Cell = string | { readonly blocks: readonly Block[]; readonly drawing?: CellDrawing };

/** A cell that is ready to be drawn. */
export interface LaidCell {
  readonly lines: readonly LaidLine[];
  readonly drawing: CellDrawing | undefined;
  readonly height: number;
}

/** Points. */
export function heightOf(lines: readonly LaidLine[]): number {
  return lines.reduce((sum, { height }) => sum + height, 0);
}

/** How many lines fit; the last of them keeps its drawing beside it. */
export function firstLines({ lines, drawing }: LaidCell, room: number): number {
  let [height, count] = [0, 0];
  for (const line of lines) {
    const last = count === lines.length - 1 ? (drawing?.height ?? 0) : 0;
    if (height + line.height + last > room) break;
    height += line.height;
    count += 1;
  }
  return count;
}

/** What is left of a cell for the next page. */
export function withoutLines({ lines, drawing }: LaidCell, count: number): LaidCell {
  const rest = lines.slice(count);
  const left = rest.length === 0 ? undefined : drawing;
  return { lines: rest, drawing: left, height: heightOf(rest) + (left?.height ?? 0) };
}
