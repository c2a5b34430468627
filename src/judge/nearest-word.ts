/** Least number of letters to change, add or drop between two words (Levenshtein), case ignored. */
export function wordDistance(a: string, b: string): number {
  const [p, q] = [a.toLowerCase(), b.toLowerCase()];
  let row = Array.from({ length: q.length + 1 }, (_, j) => j);
  for (let i = 1; i <= p.length; i++) {
    const next = [i];
    for (let j = 1; j <= q.length; j++)
      next[j] = Math.min(next[j - 1] + 1, row[j] + 1, row[j - 1] + (p[i - 1] === q[j - 1] ? 0 : 1));
    row = next;
  }
  return row[q.length];
}

/** The known word nearest to a given one; the first of equals; null when there is none to choose from. */
export function nearestWord(word: string, known: readonly string[]): string | null {
  let best: string | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const candidate of known) {
    const distance = wordDistance(word, candidate);
    if (distance < least) [best, least] = [candidate, distance];
  }
  return best;
}
