/** Words of this product and its trade, which whoever guesses tries first. Listed in docs/guide/people.md. */
export const CONTEXT_WORDS = [
  ...['heatbook', 'rework', 'reball', 'reflow', 'solder', 'ledger', 'station', 'operator', 'quality', 'approver'],
  ...['auditor', 'customer', 'administrator', 'admin', 'bga'],
] as const;

/** Words that passwords are made of everywhere. No list of leaked passwords: these are of our own choice. */
const COMMON_WORDS = [
  ...['password', 'passwort', 'kennwort', 'passphrase', 'passwd', 'changeme', 'default', 'secret', 'geheim', 'login'],
  ...['letmein', 'welcome', 'willkommen', 'iloveyou', 'trustno', 'whatever', 'computer', 'internet', 'freedom'],
  ...['sunshine', 'princess', 'football', 'fussball', 'baseball', 'superman', 'batman', 'starwars', 'dragon'],
  ...['monkey', 'master', 'shadow', 'summer', 'winter', 'spring', 'autumn', 'sommer', 'monday', 'friday', 'hello'],
  ...['hallo', 'guest', 'user', 'root', 'test', 'pass', 'love'],
] as const;

/** Rows of keyboards, and orders that everybody knows; read backwards too. */
const ROWS = [
  '01234567890',
  'abcdefghijklmnopqrstuvwxyz',
  'qwertyuiop',
  'qwertzuiop',
  'asdfghjkl',
  'zxcvbnm',
  'yxcvbnm',
];
const LEAST_RUN = 3;

/** Signs that stand for letters. */
const LOOKALIKES: Readonly<Record<string, string>> = {
  '@': 'a',
  $: 's',
  '!': 'i',
  '0': 'o',
  '1': 'i',
  '3': 'e',
  '5': 's',
};

/** So many characters at least must be left when all that is foreseeable is taken out. */
const LEAST_LEFT = 5;
const LEAST_DISTINCT = 5;

/**
 * Whether a password is made of words of the trade, common words, the name of its account, years, rows of the keyboard and
 * repetition alone, with next to nothing of its own. What is left is counted in code points.
 * @param password in its normal form
 */
export function isGuessable(password: string, name: string): boolean {
  const plain = password.toLowerCase();
  if (new Set(plain).size < LEAST_DISTINCT || /^(.{1,8})\1+$/su.test(plain)) return true;
  const parts = name
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .filter((part) => part.length >= LEAST_RUN);
  const words = [...CONTEXT_WORDS, ...COMMON_WORDS, ...parts].sort((a, b) => b.length - a.length);
  return leftOf(withoutWords(plain, words)) < LEAST_LEFT;
}

function leftOf(text: string): number {
  const own = withoutRuns(text.replaceAll(/(?:19|20)\d\d/g, ' ')).replaceAll(/[^\p{L}\p{N}]|(.)(?=\1)/gu, '');
  return Array.from(own).length;
}

/** Takes out words, also where they are written with signs in place of letters. */
function withoutWords(text: string, words: readonly string[]): string {
  let [left, letters] = [text, lettersOf(text)];
  for (const word of words.map(lettersOf)) {
    for (let at = letters.indexOf(word); at >= 0; at = letters.indexOf(word)) {
      const cut = (whole: string): string =>
        whole.slice(0, at) + ' '.repeat(word.length) + whole.slice(at + word.length);
      [left, letters] = [cut(left), cut(letters)];
    }
  }
  return left;
}

/** As long as the text, so that a place in one is the same place in the other. */
function lettersOf(text: string): string {
  return text.replaceAll(/[@$!0135]/g, (sign) => LOOKALIKES[sign] ?? sign);
}

/** Takes out each stretch that goes along a row, forwards or backwards. */
function withoutRuns(text: string): string {
  const signs = Array.from(text);
  let left = '';
  for (let at = 0; at < signs.length;) {
    const length = runAt(signs, at);
    left += length >= LEAST_RUN ? ' ' : (signs[at] ?? '');
    at += length >= LEAST_RUN ? length : 1;
  }
  return left;
}

function runAt(signs: readonly string[], from: number): number {
  return Math.max(
    ...ROWS.flatMap((row) => [row, Array.from(row).reverse().join('')]).map((row) => {
      let length = 1;
      while (from + length < signs.length && row.includes(signs.slice(from, from + length + 1).join(''))) length += 1;
      return length;
    }),
  );
}
