import { pointerToken } from '../../../libs/ledger/intake/json-pointer.js';
import { findUnfitText } from '../../../libs/ledger/intake/unfit-text.js';
import { FieldProblem } from './problem.js';

const MOST = 20;

/**
 * Finds what the classes of bodies and queries would not see: members called like something that every object inherits
 * (they are skipped when a class is filled, so they would pass as if they were not there), and text that cannot be kept.
 * `value` is parsed JSON of bounded depth.
 */
export function findUnfitMembers(value: unknown): FieldProblem[] {
  return [...inheritedNames(value, ''), ...findUnfitText(value, MOST)].slice(0, MOST);
}

function inheritedNames(value: unknown, parent: string): FieldProblem[] {
  if (typeof value !== 'object' || value === null) return [];
  const members = Array.isArray(value) ? [...value.entries()] : Object.entries(value);
  return members.flatMap(([key, member]) => {
    const pointer = parent + pointerToken(key);
    const own = typeof key === 'string' && key in Object.prototype ? [{ pointer, detail: 'is not known here' }] : [];
    return [...own, ...inheritedNames(member, pointer)];
  });
}
