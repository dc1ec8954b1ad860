/**
 * Characters that a terminal or a page would act on rather than show: controls, and those that turn the direction of what
 * follows. A file that someone made to deceive may have them in its names.
 */
const UNSEEN = /[\p{Cc}\p{Bidi_Control}\u2028\u2029]/gu;

/** An element with text; what cannot be seen in the text is shown by its number. */
export function part(tag: string, text: string, className = ''): HTMLElement {
  const made = document.createElement(tag);
  made.className = className;
  made.textContent = text.replace(UNSEEN, (letter) =>
    letter === '\n' ? letter : `U+${(letter.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`,
  );
  return made;
}

/** An element with others in it. */
export function partWith(tag: string, className: string, children: readonly HTMLElement[]): HTMLElement {
  const made = document.createElement(tag);
  made.className = className;
  made.append(...children);
  return made;
}

/** `one entry`, `17 entries`. */
export function amount(count: number, one: string, many: string): string {
  return count === 1 ? `one ${one}` : `${count.toLocaleString('en')} ${many}`;
}

export function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
