import { printableText } from './printable-text.js';
import { hasGlyph } from './typeface.js';

describe('text that is to be drawn', () => {
  it.each(['plain, 5 °C ±2', 'naïve — “œuvre”', 'Ελλάδα', 'Москва', 'שלום', 'مرحبا', 'e\u0301', '→ ≥ Ω'])(
    'stands as it is where the typeface has it: %s',
    (text) => {
      expect(printableText(text, hasGlyph)).toMatchObject({ text, replaced: 0, spelled: 0 });
    },
  );

  it('shows what the typeface lacks by a sign that says so, character by character', () => {
    expect(printableText('U7 温度 ok', hasGlyph)).toEqual({
      text: 'U7 \uFFFD\uFFFD ok',
      replaced: 2,
      spelled: 0,
      fromRight: false,
    });
    expect(printableText('\u{1F9EA}', hasGlyph)).toMatchObject({ text: '\uFFFD', replaced: 1, spelled: 0 });
  });

  it('spells out what cannot be seen, so that nothing hides or turns what stands beside it', () => {
    const text = 'a\u0007b\u202Ec\u200Bd\u00ADe\uFEFF';
    expect(printableText(text, hasGlyph)).toMatchObject({
      text: 'a[U+0007]b[U+202E]c[U+200B]d[U+00AD]e[U+FEFF]',
      replaced: 0,
      spelled: 5,
    });
  });

  it('tells whether some of it is written from right to left', () => {
    expect(printableText('board שלום', hasGlyph).fromRight).toBe(true);
    expect(printableText('Москва', hasGlyph).fromRight).toBe(false);
  });

  it('shows the end of a line', () => {
    expect(printableText('one\ntwo\r\nthree', hasGlyph).text).toBe('one↵ two↵ three');
  });
});
