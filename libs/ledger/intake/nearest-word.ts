/**
 * The candidate that a text was most likely meant to be: the one with the smallest edit distance (Levenshtein), where
 * that is no more than a third of the text. Undefined where none is that near.
 */
export function nearestWord(text: string, candidates: readonly string[]): string | undefined {
  let nearest: string | undefined;
  let least = Math.floor(text.length / 3) + 1;
  for (const candidate of candidates) {
    // What is longer or shorter by more than that cannot be nearer, so the work is bounded by the candidates' lengths.
    if (Math.abs(candidate.length - text.length) >= least) continue;
    const distance = editDistance(text.toLowerCase(), candidate.toLowerCase());
    if (distance < least) [nearest, least] = [candidate, distance];
  }
  return nearest;
}

function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 0; i < a.length; i += 1) {
    const next = [i + 1];
    for (let j = 0; j < b.length; j += 1) {
      const replaced = (row[j] ?? 0) + (a[i] === b[j] ? 0 : 1);
      next.push(Math.min(replaced, (row[j + 1] ?? 0) + 1, (next[j] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}
