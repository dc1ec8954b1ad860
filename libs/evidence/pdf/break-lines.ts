const characters = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** After these a word may be broken where it has to be. */
const SOFT_ENDS = /(?<=[-/:_.@,;])/u;

/**
 * Breaks text into lines no wider than `width`: between words, and within a word only where it alone is wider, then after
 * punctuation or, failing that, anywhere between characters. A line that ends between words keeps the blank after it, so that
 * who copies the text or has it read out gets the words apart.
 * @param measure width of a text, in the unit of `width`; the blank at the end of a line is not in it
 * @returns at least one line
 */
export function breakLines(text: string, width: number, measure: (text: string) => number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (measure(longer) <= width) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(`${line} `);
    const pieces = measure(word) <= width ? [word] : breakWord(word, width, measure);
    lines.push(...pieces.slice(0, -1));
    line = pieces.at(-1) ?? '';
  }
  return [...lines, line];
}

function breakWord(word: string, width: number, measure: (text: string) => number): string[] {
  const pieces: string[] = [];
  let piece = '';
  const parts = word.split(SOFT_ENDS).flatMap((part) => (measure(part) <= width ? [part] : charactersOf(part)));
  for (const part of parts) {
    if (piece !== '' && measure(piece + part) > width) {
      pieces.push(piece);
      piece = part;
    } else {
      piece += part;
    }
  }
  return [...pieces, piece];
}

/** What a reader takes for one character, accents and all. */
function charactersOf(text: string): string[] {
  return Array.from(characters.segment(text), ({ segment }) => segment);
}
