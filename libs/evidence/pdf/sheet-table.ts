import { CONTENT_WIDTH, INK, PAGE, SIZE } from './page-style.js';
import { Cell, firstLines, heightOf, LaidCell, withoutLines } from './laid-cell.js';
import { LaidLine } from './laid-text.js';
import { Sheet } from './sheet.js';

export interface Column {
  /** Empty throughout where the table has no row of titles. */
  readonly title: string;
  /** Share of the width, against those of the other columns. */
  readonly share: number;
  readonly right?: boolean;
  /** Its cells name their rows. */
  readonly head?: boolean;
}

const PAD = { x: 3, y: 2.2 } as const;
/** A row that is not higher than this goes to the next page whole; a higher one is broken. Points. */
const UNBROKEN = 260;

/** A table that grows row by row over as many pages as it needs; its titles are repeated on each. */
export class SheetTable {
  private readonly element: PDFKit.PDFStructureElement;
  private readonly widths: readonly number[];
  private readonly titles: readonly LaidCell[];
  private begun = false;

  constructor(
    private readonly sheet: Sheet,
    private readonly columns: readonly Column[],
  ) {
    const shares = columns.reduce((sum, { share }) => sum + share, 0);
    this.widths = columns.map(({ share }) => (CONTENT_WIDTH * share) / shares);
    this.titles = columns.map(({ title }, column) => {
      return this.lay({ blocks: title === '' ? [] : [{ text: title, face: 'bold', size: SIZE.small }] }, column);
    });
    this.element = sheet.doc.struct('Table');
    sheet.parent.add(this.element);
  }

  /** @param cells one for each column */
  row(cells: readonly Cell[]): void {
    const laid = cells.map((cell, column) => this.lay(cell, column));
    const height = Math.max(...laid.map((cell) => cell.height)) + 2 * PAD.y;
    const wanted = height <= UNBROKEN ? height : Math.min(height, 80);
    if (!this.begun) {
      this.sheet.need(this.titlesHeight + wanted);
      this.drawTitles(true);
      this.begun = true;
    } else if (this.sheet.room < wanted) {
      this.turnPage();
    }
    this.drawRow(laid);
  }

  end(): void {
    this.element.end();
    this.sheet.y += 5;
  }

  private lay(cell: Cell, column: number): LaidCell {
    const { blocks, drawing }: Exclude<Cell, string> = typeof cell === 'string' ? { blocks: [{ text: cell }] } : cell;
    const head = this.columns[column]?.head === true;
    const set = blocks.map((block) => (head && block.face === undefined ? { ...block, face: 'bold' as const } : block));
    const lines = this.sheet.lines(set, (this.widths[column] ?? 0) - 2 * PAD.x);
    return { lines, drawing, height: heightOf(lines) + (drawing?.height ?? 0) };
  }

  private get titlesHeight(): number {
    const height = Math.max(...this.titles.map((cell) => cell.height));
    return height === 0 ? 0 : height + 2 * PAD.y;
  }

  private turnPage(): void {
    this.sheet.newPage();
    this.drawTitles(false);
  }

  /** @param first tagged as titles; on later pages they are only repeated. */
  private drawTitles(first: boolean): void {
    if (this.titlesHeight === 0) return;
    const top = this.sheet.y;
    const row = first ? this.child(this.element, 'TR') : undefined;
    this.titles.forEach(({ lines }, column) => {
      const draw = (): void => {
        this.drawLines(lines, column, top + PAD.y);
      };
      if (row === undefined) this.sheet.artifact('Pagination', draw);
      else this.child(row, 'TH', 'Column').add(draw).end();
    });
    row?.end();
    this.sheet.y = top + this.titlesHeight;
    this.line(INK.text);
  }

  private drawRow(cells: readonly LaidCell[]): void {
    const row = this.child(this.element, 'TR');
    const elements = this.columns.map(({ head }) => {
      return head === true ? this.child(row, 'TH', 'Row') : this.child(row, 'TD');
    });
    let rest = cells;
    for (;;) {
      const room = this.sheet.room - 2 * PAD.y;
      const fitting = rest.map((cell) => firstLines(cell, room));
      this.drawPiece(rest, fitting, elements);
      rest = rest.map((cell, column) => withoutLines(cell, fitting[column] ?? 0));
      if (rest.every(({ height }) => height === 0)) break;
      this.turnPage();
    }
    elements.forEach((element) => {
      element.end();
    });
    row.end();
    this.line(INK.faint);
  }

  /** What of a row is on this page: so many lines of each cell, and its drawing where they are all. */
  private drawPiece(
    cells: readonly LaidCell[],
    fitting: readonly number[],
    elements: readonly PDFKit.PDFStructureElement[],
  ): void {
    const top = this.sheet.y + PAD.y;
    let bottom = top;
    cells.forEach(({ lines, drawing }, column) => {
      const count = fitting[column] ?? 0;
      const shown = lines.slice(0, count);
      const end = top + heightOf(shown);
      if (shown.length > 0) {
        elements[column]?.add(() => {
          this.drawLines(shown, column, top);
        });
      }
      const drawn = drawing !== undefined && count === lines.length;
      if (drawn) {
        this.sheet.artifact('Layout', () => {
          drawing.draw(this.left(column), end, (this.widths[column] ?? 0) - 2 * PAD.x);
        });
      }
      bottom = Math.max(bottom, end + (drawn ? drawing.height : 0));
    });
    this.sheet.y = bottom + PAD.y;
  }

  private drawLines(lines: readonly LaidLine[], column: number, top: number): void {
    const width = (this.widths[column] ?? 0) - 2 * PAD.x;
    let y = top;
    for (const line of lines) {
      const shift =
        this.columns[column]?.right === true ? width - this.sheet.width(line.text.trimEnd(), line.face, line.size) : 0;
      this.sheet.draw(line, this.left(column) + shift, y);
      y += line.height;
    }
  }

  private left(column: number): number {
    return this.widths.slice(0, column).reduce((sum, width) => sum + width, PAGE.left) + PAD.x;
  }

  private line(ink: string): void {
    this.sheet.artifact('Layout', () => {
      this.sheet.rule(this.sheet.y, ink);
    });
  }

  private child(parent: PDFKit.PDFStructureElement, tag: string, scope?: 'Row' | 'Column'): PDFKit.PDFStructureElement {
    const element = this.sheet.doc.struct(tag, scope === undefined ? {} : scoped(scope));
    parent.add(element);
    return element;
  }
}

/** pdfkit knows the scope of a heading cell; its types do not. */
function scoped(scope: 'Row' | 'Column'): object {
  return { scope };
}
