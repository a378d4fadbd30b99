/** More slips than this in one word are a different word. */
const MOST_SLIPS = 2;

/** The word people most likely meant, or undefined when none is near: at most a third of the letters differ, and two (swaps of neighbours count once). */
export function nearestWord(written: string, known: Iterable<string>): string | undefined {
  const short = written.slice(0, 64).toLowerCase();
  let best: string | undefined;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (const word of known) {
    const distance = editDistance(short, word.toLowerCase());
    if (distance < bestDistance) {
      bestDistance = distance;
      best = word;
    }
  }
  if (best === undefined) return undefined;
  return bestDistance <= slipsAllowed(best, short) ? best : undefined;
}

/** How many slips may lie between two words that are meant to be the same. */
export function slipsAllowed(a: string, b: string): number {
  return Math.max(1, Math.min(Math.floor(Math.max(a.length, b.length) / 3), MOST_SLIPS));
}

/** How many slips one text is from another (optimal string alignment): insertions, deletions, replacements and swaps of neighbours. */
export function editDistance(a: string, b: string): number {
  if (Math.abs(a.length - b.length) > 32) return Number.POSITIVE_INFINITY;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let least = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) least = Math.min(least, before[j - 2]! + 1);
      row.push(least);
    }
    before = last;
    last = row;
  }
  return last[b.length]!;
}
