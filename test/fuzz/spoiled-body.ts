import { Dice } from './dice.js';
import { NASTY_NUMBERS, NASTY_TEXTS } from './nasty-values.js';
import { RawJson } from './raw-json.js';

type Members = Record<string, unknown>;

/** Where a value stands in a body. */
interface Place {
  readonly parent: Members | unknown[];
  readonly key: string;
  readonly value: unknown;
}

const OTHERS: readonly unknown[] = [null, true, 0, -1, 1.5, '', 'x', [], [null], {}, [[]], { length: 1 }, [1, 'a', {}]];
const UNKNOWN = ['extra', '__proto__', 'constructor', 'toString', 'hasOwnProperty', 'then', 'length', '', ' ', 'a/b~c'];
const DEPTHS = [31, 32, 33, 500, 20_000];
const BRACKETS = [
  { open: '[', close: ']' },
  { open: '{"a":', close: '}' },
];
const MEMBERS = [199, 201, 5000];
const ITEMS = [101, 1001, 20_000];

/** Ways to spoil a value in one place, each giving the whole as JSON text. */
export const SPOILERS: Readonly<Record<string, (value: unknown, dice: Dice) => string>> = {
  'other type': (value, dice) => changed(value, dice, () => dice.one(OTHERS)),
  text: (value, dice) => changed(value, dice, () => dice.one(NASTY_TEXTS)),
  number: (value, dice) => changed(value, dice, (raw) => raw.put(dice.one(NASTY_NUMBERS))),
  bound: (value, dice) => changed(value, dice, (_raw, found) => beyond(found, dice)),
  missing: (value, dice) => changed(value, dice, () => undefined),
  unknown: (value, dice) => added(value, dice, () => [dice.one(UNKNOWN), dice.one(['1', '{"a":1}', 'null'])]),
  twice: (value, dice) => added(value, dice, (had) => [dice.one(had.length > 0 ? had : ['a']), '1']),
  deep: (value, dice) => {
    const depth = dice.one(DEPTHS);
    const { open, close } = dice.one(BRACKETS);
    return changed(value, dice, (raw) => raw.put(`${open.repeat(depth)}1${close.repeat(depth)}`));
  },
  'many members': (value, dice) =>
    changed(value, dice, () => {
      const members = Array.from({ length: dice.one(MEMBERS) }, (_, n): [string, number] => [`k${String(n)}`, n]);
      return Object.fromEntries(members);
    }),
  'many items': (value, dice) =>
    changed(value, dice, (_raw, found) => {
      const item: unknown = Array.isArray(found) ? found[0] : found;
      return Array.from({ length: dice.one(ITEMS) }, () => item);
    }),
};

/** The same with one value of it, chosen by chance, put as `make` says. */
function changed(value: unknown, dice: Dice, make: (raw: RawJson, found: unknown) => unknown): string {
  const raw = new RawJson();
  const whole = { body: structuredClone(value) };
  const { parent, key, value: found } = dice.one(placesOf(whole));
  Reflect.set(parent, key, make(raw, found));
  return raw.write(whole.body);
}

/** With a member more in one of its objects, which may have one of that name. */
function added(value: unknown, dice: Dice, member: (had: readonly string[]) => readonly [string, string]): string {
  const raw = new RawJson();
  const whole = { body: structuredClone(value) };
  const objects = placesOf(whole).flatMap(({ value: one }) => (isObject(one) ? [one] : []));
  if (objects.length > 0) {
    const chosen = dice.one(objects);
    const [key, text] = member(Object.keys(chosen));
    chosen[raw.put(`${JSON.stringify(key)}:${text}`)] = null;
  }
  return raw.write(whole.body);
}

function placesOf(parent: Members | unknown[]): Place[] {
  return Object.entries(parent).flatMap(([key, value]: [string, unknown]) => {
    const within = isObject(value) || Array.isArray(value) ? placesOf(value) : [];
    return [{ parent, key, value }, ...within];
  });
}

function beyond(found: unknown, dice: Dice): unknown {
  if (typeof found === 'number') return dice.one([0, -1, found * 1000, -found, found + 1e-9, 1e15, Number.MIN_VALUE]);
  if (typeof found === 'string') {
    return dice.one(['', found.repeat(20), found.padEnd(64, 'x'), found.padEnd(65, 'x'), ` ${found}`]);
  }
  if (!Array.isArray(found)) return found;
  const items: readonly unknown[] = found;
  return [...items, ...items, ...items];
}

function isObject(value: unknown): value is Members {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
