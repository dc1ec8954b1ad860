/**
 * Measures of a page, in points (1/72 inch), from its upper left corner. The sheet is A4; what is on it lies within the
 * part that A4 and US Letter share, so that it prints on either without being scaled.
 */
export const PAGE = {
  width: 595.28,
  height: 841.89,
  left: 52,
  right: 543,
  header: 42,
  top: 67,
  bottom: 752,
  footer: 767,
} as const;

export const CONTENT_WIDTH = PAGE.right - PAGE.left;

/** Sizes of type in points. */
export const SIZE = { title: 17, section: 12.5, part: 9.5, text: 8.5, table: 7.5, small: 6.5 } as const;

/** Leading as a multiple of the size. */
export const LEADING = 1.32;

/** Greys. None of them carries a meaning by itself. */
export const INK = { text: '#000000', soft: '#4a4a4a', rule: '#9a9a9a', faint: '#d0d0d0' } as const;

/** Typefaces, all of the DejaVu family (free licence), by file in package dejavu-fonts-ttf. */
export const FACES = {
  regular: 'DejaVuSansCondensed.ttf',
  bold: 'DejaVuSansCondensed-Bold.ttf',
  mono: 'DejaVuSansMono.ttf',
} as const;
export type Face = keyof typeof FACES;
