import { getDocument, PDFDocumentProxy, PDFPageProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** What a reader of PDF that shares nothing with its writer makes of a file. */
export interface ReadPdf {
  /** Text of each page, in the order in which the file has it, with a blank between pieces. */
  readonly pages: readonly string[];
  /** Roles of the structure, with their alternative text, in order, of all pages. */
  readonly roles: readonly { readonly role: string; readonly alt: string | undefined }[];
  readonly info: Readonly<Record<string, unknown>>;
  readonly lang: string | null;
  /** Titles of the bookmarks. */
  readonly bookmarks: readonly string[];
}

/** Reads a PDF. */
export async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const task = getDocument({ data: new Uint8Array(bytes), verbosity: 0 });
  const document = await task.promise;
  const [pages, roles]: [string[], ReadPdf['roles'][number][]] = [[], []];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    pages.push(await textOf(page));
    collect(await page.getStructTree(), roles);
  }
  const { info } = await document.getMetadata();
  const read = {
    pages,
    roles,
    info: Object.fromEntries(Object.entries(info)),
    lang: langOf(info),
    bookmarks: await bookmarksOf(document),
  };
  await task.destroy();
  return read;
}

async function textOf(page: PDFPageProxy): Promise<string> {
  const { items } = await page.getTextContent();
  const texts = items.flatMap((item) => ('str' in item && item.str.trim() !== '' ? [item.str] : []));
  return texts.join(' ').replaceAll(/\s+/g, ' ');
}

function collect(node: unknown, roles: ReadPdf['roles'][number][]): void {
  if (typeof node !== 'object' || node === null) return;
  const { role, alt, children }: { role?: unknown; alt?: unknown; children?: unknown } = node;
  if (typeof role === 'string') roles.push({ role, alt: typeof alt === 'string' ? alt : undefined });
  if (Array.isArray(children)) for (const child of children) collect(child, roles);
}

function langOf(info: object): string | null {
  return 'Language' in info && typeof info.Language === 'string' ? info.Language : null;
}

async function bookmarksOf(document: PDFDocumentProxy): Promise<string[]> {
  const outline: unknown = await document.getOutline();
  return Array.isArray(outline) ? outline.map((item: { readonly title: string }) => item.title) : [];
}
