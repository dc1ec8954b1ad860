import { readFile } from 'node:fs/promises';
import { CONTEXT_WORDS, isGuessable } from './guessable-password.js';
import { newPassword } from './new-password.js';

describe('a password that is guessed first', () => {
  it.each([
    'aaaaaaaaaaaa',
    '            ',
    '123456789012',
    '987654321098',
    'qwertzuiop12',
    'abcabcabcabc',
    'heatbook2026!!',
    'Heatbook-Admin-1',
    'P@ssw0rd1234!',
    'passwordpassword',
    'Welcome to 2026!',
    'solder solder solder',
    'ann.bench-2024',
    'tiger9tiger9tiger9',
  ])('is %p', (password) => {
    expect(isGuessable(password, 'ann.bench')).toBe(true);
  });

  it.each([
    'correct horse battery',
    'the password of ida',
    '58203947162840',
    'Pässe über Graubünden',
    'v8!kQ2_xT7#m',
    'π🔥∂ƒ©ßåΩ≈çµ∫',
  ])('is not %p', (password) => {
    expect(isGuessable(password, 'ida')).toBe(false);
  });

  it('is made of words of the trade, which the guide lists', async () => {
    const guide = await readFile('docs/guide/people.md', 'utf8');
    expect(CONTEXT_WORDS.filter((word) => !guide.includes(`\`${word}\``))).toEqual([]);
  });

  it('is none that is made for somebody', () => {
    expect(Array.from({ length: 200 }, newPassword).filter((password) => isGuessable(password, 'admin'))).toEqual([]);
  });

  it('is told at once, however long it is', () => {
    const began = performance.now();
    for (const long of ['ab'.repeat(127) + 'c', 'qwertyuiop'.repeat(25), '🔥a'.repeat(128)]) isGuessable(long, 'ann');
    // Some 30 ms at most where it was written; a pattern that tries all ways would take for ever.
    expect(performance.now() - began).toBeLessThan(2_000);
  });
});
