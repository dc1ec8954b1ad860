/** Text as it is drawn, and what was changed so that it could be. */
export interface PrintableText {
  readonly text: string;
  /** Characters that the typefaces lack, each drawn as U+FFFD. */
  readonly replaced: number;
  /** Characters that cannot be seen, each drawn as its number in brackets. */
  readonly spelled: number;
  /** Whether some of it is written from right to left. */
  readonly fromRight: boolean;
}

const REPLACEMENT = '\uFFFD';
const PLAIN = /^[\x20-\x7e\u00a0-\u00ac\u00ae-\u017f\u2013\u2014\u2018-\u201e\u2026]*$/;
const FROM_RIGHT = /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]/u;
const LINE_END = /\r\n|[\n\r]/g;
/** Controls, and format characters that hide, join or turn round what stands beside them; soft hyphen among them. */
const UNSEEN = /[\p{Cc}\p{Cf}\p{Cs}\u2028\u2029]/u;

/**
 * Makes text fit to be drawn. Control and format characters are spelled out (`[U+202E]`), so that nothing hides; a line
 * end is drawn as U+21B5; what no typeface has becomes U+FFFD. All else stands as it is.
 * @param has whether there is a glyph for a code point
 */
export function printableText(raw: string, has: (codePoint: number) => boolean): PrintableText {
  if (PLAIN.test(raw)) return { text: raw, replaced: 0, spelled: 0, fromRight: false };
  let [text, replaced, spelled] = ['', 0, 0];
  for (const character of raw.replace(LINE_END, '\u21b5 ')) {
    const codePoint = character.codePointAt(0) ?? 0;
    if (UNSEEN.test(character)) {
      text += `[U+${codePoint.toString(16).toUpperCase().padStart(4, '0')}]`;
      spelled += 1;
    } else if (has(codePoint)) {
      text += character;
    } else {
      text += REPLACEMENT;
      replaced += 1;
    }
  }
  return { text, replaced, spelled, fromRight: FROM_RIGHT.test(text) };
}
