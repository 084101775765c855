import { distance } from 'fastest-levenshtein';

/** True when the names differ by two neighbouring letters that changed places. */
function isSwap(one: string, other: string): boolean {
  if (one.length !== other.length) return false;
  let at = 0;
  while (at < one.length && one[at] === other[at]) at++;
  return one[at] === other[at + 1] && one[at + 1] === other[at] && one.slice(at + 2) === other.slice(at + 2);
}

/**
 * The candidate most like a name that was not found, for "did you mean".
 *
 * The same letters in another case win at once; else the fewest single-letter edits (Levenshtein distance, two letters
 * swapped count as one edit) win, as long as they change at most a third of the longer name and not all of a short
 * one. Of equals the first wins.
 *
 * @param name what was written.
 * @param candidates what is allowed.
 * @returns a candidate, or null when nothing is close.
 */
export function nearestName(name: string, candidates: readonly string[]): string | null {
  const lower = name.toLowerCase();
  let best: string | null = null;
  let bestDistance = Infinity;
  for (const candidate of candidates) {
    const other = candidate.toLowerCase();
    if (other === lower) return candidate;
    const longer = Math.max(lower.length, other.length);
    const limit = Math.min(longer - 1, Math.max(1, Math.floor(longer / 3)));
    // Names of very different length cannot be close; this also keeps huge names cheap.
    if (Math.abs(lower.length - other.length) > limit) continue;
    const edits = isSwap(lower, other) ? 1 : distance(lower, other);
    if (edits <= limit && edits < bestDistance) {
      best = candidate;
      bestDistance = edits;
    }
  }
  return best;
}
