import { create } from 'qrcode';
import { PAGE } from './page-style.js';
import { Sheet } from './sheet.js';

/** Modules of quiet around the code (ISO/IEC 18004 asks for four). */
const QUIET = 4;

/**
 * Draws a text as a QR code of squares, not as a picture, with error correction level M.
 * @param side of the square, points
 */
export function qrFigure(sheet: Sheet, text: string, alt: string, side: number): void {
  const { modules } = create(text, { errorCorrectionLevel: 'M' });
  const { size } = modules;
  const unit = side / (size + 2 * QUIET);
  sheet.figure(alt, side, (top) => {
    for (let row = 0; row < size; row++) {
      for (let column = 0; column < size;) {
        const from = column;
        while (column < size && modules.get(row, column) === 1) column += 1;
        if (column > from) {
          sheet.doc.rect(PAGE.left + (from + QUIET) * unit, top + (row + QUIET) * unit, (column - from) * unit, unit);
        }
        column += 1;
      }
    }
    sheet.doc.fill('#000000');
  });
}
