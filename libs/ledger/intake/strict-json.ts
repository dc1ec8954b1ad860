import {
  CLOSE_LIST,
  CLOSE_OBJECT,
  COMMA,
  endOfString,
  MINUS,
  NINE,
  OPEN_LIST,
  OPEN_OBJECT,
  QUOTE,
  ZERO,
} from './json-marks.js';
import { pointerToken } from './json-pointer.js';
import { Fault } from './problems.js';
import { shortened } from './shortened.js';

/** How deep objects and lists may be nested in an event. The deepest member of the vocabulary lies at 5. */
export const MOST_NESTED = 32;

const NUMBER = /[-+.0-9eE]+/y;
/** Integers of fewer characters are below 2^53 and cannot overflow. */
const SAFE_LENGTH = 15;

/**
 * Finds what JSON.parse passes over in silence and two readers could take differently: a key given twice in one object,
 * a number beyond 2^53 - 1 (as binary64 does not tell it from its neighbours, or makes it infinite), and nesting deeper
 * than MOST_NESTED. One pass over the text, which must be valid JSON. Stops after `most` faults, and at one too deep.
 */
export function findJsonFaults(text: string, most = 20): Fault[] {
  const faults: Fault[] = [];
  /** Per open container the keys it has so far; null for a list. */
  const open: (Set<string> | null)[] = [];
  /** Per open container the key or index that is being read. */
  const path: (string | number)[] = [];
  let keys: Set<string> | null = null;
  let atKey = false;
  const enter = (next: Set<string> | null): void => {
    open.push(next);
    path.push(next === null ? 0 : '');
    keys = next;
    atKey = next !== null;
  };
  for (let at = 0; at < text.length && faults.length < most; at += 1) {
    const code = text.charCodeAt(at);
    if (code === QUOTE) {
      const end = endOfString(text, at);
      if (atKey && keys !== null) {
        const key = keyText(text, at, end);
        path[path.length - 1] = key;
        atKey = false;
        if (keys.has(key)) faults.push(fault(path, `The member ${JSON.stringify(key)} is given more than once.`));
        keys.add(key);
      }
      at = end - 1;
    } else if (code === COMMA) {
      const last = path.length - 1;
      const index = path[last];
      if (typeof index === 'number') path[last] = index + 1;
      else atKey = true;
    } else if (code === OPEN_OBJECT || code === OPEN_LIST) {
      if (open.length === MOST_NESTED) {
        faults.push(fault(path, `Objects and lists are nested deeper than ${MOST_NESTED}.`));
        break;
      }
      enter(code === OPEN_OBJECT ? new Set() : null);
    } else if (code === CLOSE_OBJECT || code === CLOSE_LIST) {
      open.pop();
      path.pop();
      keys = open[open.length - 1] ?? null;
      atKey = false;
    } else if (code === MINUS || (code >= ZERO && code <= NINE)) {
      NUMBER.lastIndex = at;
      const literal = NUMBER.exec(text)?.[0] ?? '';
      at += literal.length - 1;
      if (!readsExactly(literal)) {
        faults.push(fault(path, `The number ${shortened(literal)} is beyond 2^53 - 1, up to which numbers are exact.`));
      }
    }
  }
  return faults;
}

function fault(path: readonly (string | number)[], detail: string): Fault {
  return { pointer: path.map(pointerToken).join(''), detail };
}

function keyText(text: string, start: number, end: number): string {
  const plain = text.slice(start + 1, end - 1);
  return plain.includes('\\') ? String(JSON.parse(text.slice(start, end))) : plain;
}

function readsExactly(literal: string): boolean {
  if (literal.length <= SAFE_LENGTH && !/[eE]/.test(literal)) return true;
  return Math.abs(Number(literal)) <= Number.MAX_SAFE_INTEGER;
}
