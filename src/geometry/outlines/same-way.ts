/** Two lines are one as far as they are this close, mm: above the rounding of programs, below any kerf. */
const SAME_LINE_MM = 0.01;
/** Of short pieces the directions have to agree this well, as a share of their length: the flanks of a narrow tip are two lines. */
const SAME_DIRECTION = 1 / 50;

/**
 * Whether two lines that leave one place run along each other.
 * @param ax how far the one has come after as much of it as both have, mm, from where it left; in y `ay`, and likewise the other
 */
export function sameWay(ax: number, ay: number, bx: number, by: number): boolean {
  // Asked for each of millions, of which nearly all go on ahead.
  if (!(ax * bx + ay * by > 0)) return false;
  const cameMm = Math.hypot(ax, ay);
  return Math.hypot(ax - bx, ay - by) <= Math.min(SAME_LINE_MM, SAME_DIRECTION * cameMm);
}

/** {@link sameWay} of two straight lines, by how far their other ends lie from where they leave, mm; those of no length go nowhere. */
export function sameStraightWay(ax: number, ay: number, bx: number, by: number): boolean {
  if (!(ax * bx + ay * by > 0)) return false;
  const aMm = Math.hypot(ax, ay);
  const bMm = Math.hypot(bx, by);
  const mm = Math.min(aMm, bMm);
  return sameWay((ax / aMm) * mm, (ay / aMm) * mm, (bx / bMm) * mm, (by / bMm) * mm);
}
