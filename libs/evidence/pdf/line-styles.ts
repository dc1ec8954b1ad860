import { INK } from './page-style.js';
import { Sheet } from './sheet.js';

/** Points. A curve is told by its dashes and by the mark at its peak, so that grey print and blind spots of colour do not matter. */
const DASHES: readonly (readonly number[])[] = [
  [],
  [5, 2],
  [1.4, 1.4],
  [7, 2, 1.4, 2],
  [3, 3],
  [10, 3],
  [1, 3],
  [5, 1.5, 1.5, 1.5, 1.5, 1.5],
];
const MARKS = ['circle', 'square', 'triangle', 'diamond'] as const;
const MARK = 2.6;

/** Sets how the curve of a channel is drawn, by its place among them. */
export function strokeLike({ doc }: Sheet, index: number): void {
  const dashes = DASHES[index % DASHES.length] ?? [];
  doc.lineWidth(0.9).strokeColor(INK.text).lineJoin('round');
  // pdfkit takes a pattern of dashes; its types know a single length only.
  if (dashes.length === 0) doc.undash();
  else doc.addContent(`[${dashes.join(' ')}] 0 d`);
}

/** Draws the mark of a channel, by its place among them. */
export function drawMark({ doc }: Sheet, x: number, y: number, index: number): void {
  doc.undash().lineWidth(0.8).strokeColor(INK.text).fillColor('#ffffff');
  switch (MARKS[index % MARKS.length]) {
    case 'square':
      doc.rect(x - MARK, y - MARK, 2 * MARK, 2 * MARK).fillAndStroke();
      break;
    case 'triangle':
      doc.polygon([x, y - MARK * 1.2], [x + MARK * 1.2, y + MARK], [x - MARK * 1.2, y + MARK]).fillAndStroke();
      break;
    case 'diamond':
      doc.polygon([x, y - MARK * 1.3], [x + MARK * 1.3, y], [x, y + MARK * 1.3], [x - MARK * 1.3, y]).fillAndStroke();
      break;
    default:
      doc.circle(x, y, MARK).fillAndStroke();
  }
}
