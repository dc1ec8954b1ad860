import PDFDocument from 'pdfkit';
import { breakLines } from './break-lines.js';
import { forgetWords } from './embedded-font.js';
import { Block, LaidLine } from './laid-text.js';
import { PageTotal } from './page-total.js';
import { CONTENT_WIDTH, Face, FACES, INK, LEADING, PAGE, SIZE } from './page-style.js';
import { printableText } from './printable-text.js';
import { hasGlyph, typefaceFile } from './typeface.js';

/** What stands on every page. */
export interface Running {
  readonly title: string;
  readonly header: string;
  /** Before the page's number in the footer. */
  readonly footer: string;
  /** After the total of pages in the footer. */
  readonly footerEnd: string;
  /** Of the document, so that the same content gives the same bytes. */
  readonly createdAt: Date;
}

/** Room that a heading wants below it, points: it never stands alone at the foot of a page. */
const KEPT_WITH_HEADING = 74;

/** Pages for which the shapes of words are kept. */
const PAGES_REMEMBERED = 64;

/**
 * The pages of a tagged PDF 1.7, filled from above. Whatever is put on it is tagged (ISO 32000-1, 14.8): text by its role,
 * drawings by an alternative text, and what is only ornament or repeated as an artifact. A page is let go once it is full.
 */
export class Sheet {
  readonly doc: PDFKit.PDFDocument;
  /** Upper edge of what comes next, points from the top of the page. */
  y: number = PAGE.top;
  /** Characters that were drawn otherwise than they stand, as `printableText` counts them. */
  replaced = 0;
  spelled = 0;
  /** Whether some text was written from right to left. */
  fromRight = false;
  private pages = 0;
  private readonly root: PDFKit.PDFStructureElement;
  private readonly total: PageTotal;
  private section: PDFKit.PDFStructureElement | undefined;

  constructor(private readonly running: Running) {
    const { title, createdAt } = running;
    this.doc = new PDFDocument({
      ...{ pdfVersion: '1.7', tagged: true, lang: 'en', displayTitle: true, autoFirstPage: false },
      ...{ size: [PAGE.width, PAGE.height], margin: 0, font: typefaceFile('regular') },
      info: { Title: title, Creator: 'Heatbook', CreationDate: createdAt, ModDate: createdAt },
    });
    this.total = new PageTotal(this.doc);
    this.root = this.doc.struct('Document');
    this.doc.addStructure(this.root);
    this.newPage();
  }

  /** Where the next element of the structure belongs. */
  get parent(): PDFKit.PDFStructureElement {
    return this.section ?? this.root;
  }

  /** What has been written since the last time; null where nothing has. */
  take(): Uint8Array | null {
    const bytes: unknown = this.doc.read();
    return bytes instanceof Uint8Array ? bytes : null;
  }

  /** Writes what only the end can tell. Afterwards `take` gives the rest. */
  finish(): void {
    this.section?.end();
    this.root.end();
    this.doc.font(typefaceFile('regular')).fontSize(SIZE.small);
    this.total.write(`${String(this.pages)}${this.running.footerEnd}`, SIZE.small);
    this.doc.end();
  }

  /** Room left on the page, points. */
  get room(): number {
    return PAGE.bottom - this.y;
  }

  /** Goes to a new page unless so much room is left; `height` in points, at most that of a page. */
  need(height: number): void {
    if (this.room < height) this.newPage();
  }

  newPage(): void {
    this.doc.addPage();
    this.pages += 1;
    if (this.pages % PAGES_REMEMBERED === 0) this.forgetWords();
    this.y = PAGE.top;
    const { header, footer } = this.running;
    const number = `${footer} · page ${String(this.pages)} of `;
    const size = SIZE.small;
    this.artifact('Pagination', () => {
      this.draw({ text: header, face: 'bold', size }, PAGE.left, PAGE.header);
      this.rule(PAGE.header + 12, INK.rule);
      this.rule(PAGE.footer - 7, INK.rule);
      this.draw({ text: number, size }, PAGE.left, PAGE.footer);
      this.total.place(PAGE.left + this.width(number, 'regular', size), PAGE.footer + size);
    });
  }

  /**
   * Begins a section, with its heading and a bookmark.
   * @param keep room that it wants below it, points
   */
  begin(title: string, level: 1 | 2, keep: number = KEPT_WITH_HEADING): void {
    this.section?.end();
    if (level === 2) {
      this.y += 14;
      this.need(keep + SIZE.section);
      this.doc.outline.addItem(title);
      this.section = this.doc.struct('Sect', { title });
      this.root.add(this.section);
    }
    const size = level === 1 ? SIZE.title : SIZE.section;
    this.tagged(`H${String(level)}`, () => {
      this.lines([{ text: title, face: 'bold', size }], CONTENT_WIDTH).forEach((line) => {
        this.drawLine(line, PAGE.left);
      });
    });
    if (level === 2) {
      this.artifact('Layout', () => {
        this.rule(this.y, INK.text);
      });
    }
    this.y += 5;
  }

  /** A heading within a section. @param keep room that it wants below it, points */
  part(title: string, keep: number = KEPT_WITH_HEADING): void {
    this.y += 7;
    const lines = this.lines([{ text: title, face: 'bold', size: SIZE.part }], CONTENT_WIDTH);
    this.need(lines.length * SIZE.part * LEADING + keep);
    this.tagged('H3', () => {
      lines.forEach((line) => {
        this.drawLine(line, PAGE.left);
      });
    });
    this.y += 2;
  }

  /** A paragraph, going on over as many pages as it needs. */
  paragraph(text: string, style: Omit<Block, 'text'> = {}): void {
    const element = this.doc.struct('P');
    this.parent.add(element);
    const lines = this.lines([{ size: SIZE.text, ...style, text }], CONTENT_WIDTH);
    for (let first = 0; first < lines.length;) {
      const height = lines[first]?.height ?? 0;
      this.need(lines.length - first > 1 ? 2 * height : height);
      const fitting = lines.slice(first, first + Math.max(1, Math.floor(this.room / height)));
      element.add(() => {
        fitting.forEach((line) => {
          this.drawLine(line, PAGE.left);
        });
      });
      first += fitting.length;
    }
    element.end();
    this.y += 4;
  }

  /**
   * A drawing, whole on one page.
   * @param alt what it shows, in words
   * @param height points
   * @param draw draws it below the given upper edge
   */
  figure(alt: string, height: number, draw: (top: number) => void): void {
    this.need(height);
    const top = this.y;
    const options = { alt: this.clean(alt), bbox: [PAGE.left, top, PAGE.right, top + height] };
    const element = this.doc.struct('Figure', options);
    this.parent.add(element);
    element.add(() => {
      draw(top);
    });
    element.end();
    this.y = top + height + 4;
  }

  /** Breaks blocks into lines for a column, `width` in points. A block is parted from the next one by a blank. */
  lines(blocks: readonly Block[], width: number): LaidLine[] {
    return blocks.flatMap(({ text, face = 'regular', size = SIZE.table, ink = INK.text }, index) => {
      const end = index < blocks.length - 1 && text !== '' ? ' ' : '';
      const broken = breakLines(this.clean(text), width, (piece) => this.width(piece, face, size));
      return broken.map((line, number) => {
        return { text: number === broken.length - 1 ? line + end : line, face, size, ink, height: size * LEADING };
      });
    });
  }

  /** Draws a line at `y` and moves below it. */
  drawLine(line: LaidLine, x: number): void {
    this.draw(line, x, this.y);
    this.y += line.height;
  }

  /** Draws a text that was cleaned already, by its upper left corner; it must be within something that is tagged. */
  draw({ text, face = 'regular', size = SIZE.table, ink = INK.text }: Block, x: number, top: number): void {
    if (text === '') return;
    this.doc.font(typefaceFile(face)).fontSize(size).fillColor(ink);
    this.doc.text(text, x, top + size, { lineBreak: false, baseline: 'alphabetic' });
  }

  /** Width of a text, points. */
  width(text: string, face: Face, size: number): number {
    return this.doc.font(typefaceFile(face)).fontSize(size).widthOfString(text);
  }

  /** Text as it can be drawn; what had to be changed is counted. */
  clean(raw: string): string {
    const { text, replaced, spelled, fromRight } = printableText(raw, hasGlyph);
    this.replaced += replaced;
    this.spelled += spelled;
    this.fromRight ||= fromRight;
    return text;
  }

  /** A line across the page. */
  rule(y: number, ink: string, from: number = PAGE.left, to: number = PAGE.right): void {
    this.doc.lineWidth(0.5).strokeColor(ink).moveTo(from, y).lineTo(to, y).stroke();
  }

  /** What is no content of its own: rules, and what every page repeats. */
  artifact(type: 'Pagination' | 'Layout', draw: () => void): void {
    this.doc.markContent('Artifact', { type });
    draw();
    this.doc.endMarkedContent();
  }

  private forgetWords(): void {
    for (const face of Object.keys(FACES) as Face[]) forgetWords(this.doc.font(typefaceFile(face)));
  }

  private tagged(tag: string, draw: () => void): void {
    const element = this.doc.struct(tag);
    this.parent.add(element);
    element.add(draw);
    element.end();
  }
}
