/**
 * Value at a share of a sorted sample, interpolated between the middles of its strata.
 * @param sorted rising, not empty.
 */
export function quantile(sorted: ArrayLike<number>, share: number): number {
  const at = Math.min(Math.max(share * sorted.length - 0.5, 0), sorted.length - 1);
  const below = Math.floor(at);
  const low = sorted[below]!;
  const high = sorted[Math.min(below + 1, sorted.length - 1)]!;
  return low + (high - low) * (at - below);
}

/**
 * Share of a sorted sample at or above 0, interpolated between the sample's points and faded out over one more step
 * beyond its ends, so that it moves without jumps when the sample does: a solver can invert it.
 * @param sorted rising, not empty.
 */
export function shareAboveZero(sorted: ArrayLike<number>): number {
  const count = sorted.length;
  let above = 0;
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < 0) low = middle + 1;
    else high = middle;
  }
  const first = low;
  if (first === 0) {
    const gap = Math.max(sorted[Math.min(1, count - 1)]! - sorted[0]! || 0, Number.MIN_VALUE);
    above = count - 0.5 + Math.min(0.5, (0.5 * sorted[0]!) / gap);
  } else if (first === count) {
    const gap = Math.max(sorted[count - 1]! - sorted[Math.max(0, count - 2)]! || 0, Number.MIN_VALUE);
    above = 0.5 - Math.min(0.5, (-0.5 * sorted[count - 1]!) / gap);
  } else {
    const before = sorted[first - 1]!;
    above = count - first - 0.5 + sorted[first]! / (sorted[first]! - before);
  }
  return above / count;
}
