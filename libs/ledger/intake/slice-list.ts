import { CLOSE_LIST, CLOSE_OBJECT, COMMA, endOfString, isBlank, OPEN_LIST, OPEN_OBJECT, QUOTE } from './json-marks.js';

/**
 * Cuts the text of a JSON list into the texts of its items. Only quotes and brackets are read, so an item that is no
 * JSON does not hide its neighbours; whoever reads the items finds it. `broken` says where the list itself is at fault.
 */
export function sliceList(text: string): { readonly items: string[] } | { readonly broken: string } {
  const items: string[] = [];
  const open: number[] = [];
  let start = 0;
  let closed = false;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (isBlank(code)) continue;
    if (closed) return { broken: `There is something after the end of the list, at character ${at + 1}.` };
    if (open.length === 0 && code !== OPEN_LIST) return { broken: 'The text does not begin with "[".' };
    if (code === QUOTE) {
      at = endOfString(text, at) - 1;
    } else if (code === OPEN_LIST || code === OPEN_OBJECT) {
      if (open.length === 0) start = at + 1;
      open.push(code === OPEN_LIST ? CLOSE_LIST : CLOSE_OBJECT);
    } else if (code === CLOSE_LIST || code === CLOSE_OBJECT) {
      if (open.pop() !== code) return { broken: `A bracket closes what was not opened, at character ${at + 1}.` };
      closed = open.length === 0;
      if (closed) pushLast(items, text.slice(start, at));
    } else if (code === COMMA && open.length === 1) {
      items.push(text.slice(start, at));
      start = at + 1;
    }
  }
  return closed ? { items } : { broken: 'The list ends early: a quote or a bracket is not closed.' };
}

/** A list of nothing but blanks is empty. */
function pushLast(items: string[], text: string): void {
  if (items.length > 0 || text.trim() !== '') items.push(text);
}
