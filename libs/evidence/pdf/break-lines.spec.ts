import { breakLines } from './break-lines.js';

/** Each character is as wide as one. */
const measure = (text: string): number => [...new Intl.Segmenter('en').segment(text)].length;

describe('breaking text into lines', () => {
  it('goes to the next line between words', () => {
    expect(breakLines('one two three', 7, measure)).toEqual(['one two ', 'three']);
  });

  it('breaks a word only where it alone is too wide, after punctuation first', () => {
    expect(breakLines('at devices/N-0301 now', 9, measure)).toEqual(['at ', 'devices/', 'N-0301 ', 'now']);
    expect(breakLines('abcdefghij', 4, measure)).toEqual(['abcd', 'efgh', 'ij']);
  });

  it('does not part an accent from its letter', () => {
    expect(breakLines('e\u0301e\u0301e\u0301', 2, measure)).toEqual(['e\u0301e\u0301', 'e\u0301']);
  });

  it('gives a line for no text, too', () => {
    expect(breakLines('', 5, measure)).toEqual(['']);
  });

  it('ends even where nothing fits', () => {
    expect(breakLines('ab', 0.5, measure)).toEqual(['a', 'b']);
  });
});
