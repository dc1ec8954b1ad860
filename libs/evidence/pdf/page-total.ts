import { fontInUse } from './embedded-font.js';

/** Above and below the baseline, in points: enough for the small type of a footer. */
const RISE = 9;
const DROP = 4;

/**
 * A piece of text that stands on every page and is written when all pages are: the total of pages is not known before.
 * Pages name it as a form (ISO 32000-1, 8.10) and can be let go as soon as they are full.
 */
export class PageTotal {
  private readonly form: PDFKit.PDFKitReference;
  private readonly fonts: Record<string, unknown> = {};

  constructor(private readonly doc: PDFKit.PDFDocument) {
    this.form = doc.ref({
      Type: 'XObject',
      Subtype: 'Form',
      BBox: [0, -DROP, 400, RISE],
      Resources: { Font: this.fonts },
    });
  }

  /**
   * Puts it on the current page.
   * @param baseline distance of its baseline from the upper edge, points
   */
  place(x: number, baseline: number): void {
    // The page's own table of forms, which pdfkit makes when it is asked for.
    const forms = this.doc.page.xobjects as Record<string, unknown>;
    forms['Total'] = this.form;
    this.doc.save();
    this.doc.transform(1, 0, 0, -1, x, baseline);
    this.doc.addContent('/Total Do');
    this.doc.restore();
  }

  /** Writes the text, in the typeface and with the size in points that `doc` has now. */
  write(text: string, size: number): void {
    const font = fontInUse(this.doc);
    this.fonts[font.id] = font.ref();
    const [glyphs] = font.encode(text);
    this.form.end(`BT /${font.id} ${String(size)} Tf <${glyphs.join('')}> Tj ET\n`);
  }
}
