import { randomInt } from 'node:crypto';

/** Letters and digits that nobody takes for one another, on a screen or on paper. */
const ALPHABET = 'abcdefghjkmnpqrstuvwxyz23456789';
const GROUPS = 7;
const GROUP_LENGTH = 4;

/** A password to be read and typed: 28 random characters in groups of four, some 138 bits. */
export function newPassword(): string {
  const group = (): string => Array.from({ length: GROUP_LENGTH }, () => ALPHABET[randomInt(ALPHABET.length)]).join('');
  return Array.from({ length: GROUPS }, group).join('-');
}
