const REASONS: Readonly<Record<string, string>> = {
  'unknown-assembly': 'The assembly is not in the setup',
  'unknown-site': 'The assembly has no such site',
  unreadable: 'It cannot be judged as it is',
};

/** Why events are parked. */
export function parkedWords(code: string): string {
  return REASONS[code] ?? code;
}
