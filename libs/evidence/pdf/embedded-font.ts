/** What pdfkit keeps of a typeface in use, as far as it is needed beside its own interface. */
interface EmbeddedFont {
  readonly id: string;
  /** Shapes of words that were set already, by word. */
  layoutCache: Record<string, unknown>;
  /** Glyphs in hex. */
  encode(text: string): readonly [readonly string[], ...unknown[]];
  ref(): unknown;
}

/**
 * The typeface that a document has now.
 * @throws Error where this version of pdfkit keeps it elsewhere
 */
export function fontInUse(doc: PDFKit.PDFDocument): EmbeddedFont {
  const font: unknown = Reflect.get(doc, '_font');
  if (isEmbedded(font)) return font;
  throw new Error('pdfkit does not tell its typeface: this version of it does not fit');
}

/** Forgets the shapes of words, which pdfkit would keep for ever: every time and id of a long history is another word. */
export function forgetWords(doc: PDFKit.PDFDocument): void {
  // Without a prototype, as pdfkit makes it: a note may well hold the word `constructor`.
  fontInUse(doc).layoutCache = Object.create(null) as Record<string, unknown>;
}

function isEmbedded(font: unknown): font is EmbeddedFont {
  return (
    typeof font === 'object' &&
    font !== null &&
    ['id', 'layoutCache', 'encode', 'ref'].every((member) => member in font)
  );
}
