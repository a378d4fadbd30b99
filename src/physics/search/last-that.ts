/**
 * What came of the last candidate that does, of candidates that do up to some place and do not from there on; null when none does. Looks
 * around a place first, in strides that double, and halves once the last one lies between two that were tried.
 * @param near where in the list the first that does not is believed: the better, the fewer are tried.
 */
export function lastThat<T, R>(candidates: readonly T[], tried: (candidate: T) => R | null, near: number): R | null {
  let low = -1;
  let high = candidates.length;
  let best: R | null = null;
  let at = near;
  for (let stride = 1; high - low > 1; stride *= 2) {
    at = Math.min(high - 1, Math.max(low + 1, at));
    const result = tried(candidates[at]!);
    if (result === null) high = at;
    else {
      low = at;
      best = result;
    }
    if (low < 0) at = high - stride;
    else if (high === candidates.length) at = low + stride;
    else at = (low + high) >> 1;
  }
  return best;
}
