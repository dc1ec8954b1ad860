import { ChangePlace } from '../ports/change-store.js';

/** How long a place can be gone on from; notes of changes are kept longer. */
const GOOD_FOR_MS = 50 * 60_000;

/** No database counts so far; what goes beyond was given to nobody. */
const MOST = 2n ** 63n - 1n;

const PLACE = /^(\d{1,19})-(\d{1,19})-(\d{1,15})$/;

/** A place as listeners are given it (`Last-Event-ID`), with when that was, so that it is known to be too old later. */
export function formatPlace({ transaction, number }: ChangePlace, nowMs: number): string {
  return `${transaction}-${number}-${nowMs}`;
}

/** @returns the place; `too-old` where notes after it may be gone; undefined for what no listener was given */
export function parsePlace(text: string, nowMs: number): ChangePlace | 'too-old' | undefined {
  const [, transaction, number, atMs] = PLACE.exec(text) ?? [];
  if (transaction === undefined || number === undefined) return undefined;
  if (BigInt(transaction) > MOST || BigInt(number) > MOST) return undefined;
  // A time far ahead would make it good for ever.
  if (Math.abs(nowMs - Number(atMs)) > GOOD_FOR_MS) return 'too-old';
  return { transaction, number };
}

/** Whether a place lies after another. */
export function isAfterPlace(a: ChangePlace, b: ChangePlace): boolean {
  const [left, right] = [BigInt(a.transaction), BigInt(b.transaction)];
  return left === right ? BigInt(a.number) > BigInt(b.number) : left > right;
}
