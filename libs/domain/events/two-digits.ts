const DIGIT_0 = 0x30;

/** The number that two digits of a text make, from the place given; NaN where one of them is none. */
export function twoDigits(text: string, at: number): number {
  return digitAt(text, at) * 10 + digitAt(text, at + 1);
}

/** The digit at a place of a text; NaN where there is none. */
export function digitAt(text: string, at: number): number {
  const digit = text.charCodeAt(at) - DIGIT_0;
  return digit >= 0 && digit <= 9 ? digit : NaN;
}
