import { isGuessable } from './guessable-password.js';

const LEAST = 12;
const MOST = 256;

/**
 * The form in which a password is counted and hashed: the same letters give the same password from any keyboard
 * (Unicode NFKC, as NIST SP 800-63B has it).
 */
export function normalPassword(password: string): string {
  return password.normalize('NFKC');
}

/**
 * What is wrong with a new password, if anything is: 12 to 256 characters (code points), and not what is guessed first. No kinds of
 * characters are asked for, since such rules make passwords easier to guess (NIST SP 800-63B, 5.1.1.2).
 */
export function passwordFault(password: string, name: string): string | undefined {
  const { length } = Array.from(normalPassword(password));
  if (length < LEAST || length > MOST) return `must have ${LEAST} to ${MOST} characters`;
  if (normalPassword(password).toLowerCase() === name.toLowerCase()) return 'must not be the name of the account';
  if (isGuessable(normalPassword(password), name)) {
    return 'must not be made of common words, words of the trade, the name of the account, years, rows of keys or repetition alone';
  }
  return undefined;
}
