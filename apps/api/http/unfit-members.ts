import 'reflect-metadata';
import { pointerToken } from '../../../libs/ledger/intake/json-pointer.js';
import { findUnfitText } from '../../../libs/ledger/intake/unfit-text.js';
import { FieldProblem } from './problem.js';

const MOST = 20;
/** More than any class of a body or query has. Each unknown member costs the validator more than the one before it. */
const MOST_MEMBERS = 200;
/** More than any list takes whose class says nothing else; what is in one is looked at before it is refused as too long. */
const MOST_ITEMS = 1_000;

const LONG_LISTS = Symbol('LongLists');

/** A class of bodies with lists of its own that are longer than others may be: `most` items each. */
export function LongLists(most: number): ClassDecorator {
  return (target) => {
    Reflect.defineMetadata(LONG_LISTS, most, target);
  };
}

/**
 * Finds what the classes of bodies and queries would not see: members called like something that every object inherits
 * (they are skipped when a class is filled, so they would pass as if they were not there), and text that cannot be kept. And
 * whatever is so large that to look at it closely would keep everybody else waiting: strangers may send bodies, too.
 * `value` is parsed JSON of bounded depth.
 * @param metatype the class that it is to become
 */
export function findUnfitMembers(value: object, metatype: object): FieldProblem[] {
  const most = (Reflect.getMetadata(LONG_LISTS, metatype) as number | undefined) ?? MOST_ITEMS;
  const tooLarge = oversized(value, '', most);
  if (tooLarge !== undefined) return [tooLarge];
  return [...inheritedNames(value, ''), ...findUnfitText(value, MOST)].slice(0, MOST);
}

/** @param mostItems of a list that is this value or a member of it; what lies deeper takes what any list takes */
function oversized(value: unknown, pointer: string, mostItems: number): FieldProblem | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const members = Object.entries(value);
  const most = Array.isArray(value) ? mostItems : MOST_MEMBERS;
  if (members.length > most) {
    return { pointer, detail: `must have at most ${String(most)} ${Array.isArray(value) ? 'items' : 'members'}` };
  }
  for (const [key, member] of members) {
    const found = oversized(member, pointer + pointerToken(key), pointer === '' ? mostItems : MOST_ITEMS);
    if (found !== undefined) return found;
  }
  return undefined;
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
