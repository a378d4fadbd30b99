/** Two lines are one as far as they are this close, mm: above the rounding of programs, below any kerf. Common practice, no source. */
const SAME_LINE_MM = 0.01;
/** Of short pieces the directions have to agree this well, as a share of their length: the flanks of a narrow tip are two lines. A choice, no source. */
const SAME_DIRECTION = 1 / 50;

/**
 * Whether two straight lines that leave one place run along each other as far as the shorter one goes; one of no length goes nowhere.
 * @param ax from where the one leaves to its other end, mm; in y `ay`, and likewise the other
 */
export function sameWay(ax: number, ay: number, bx: number, by: number): boolean {
  // Asked for each of millions, of which nearly all go on ahead.
  if (!(ax * bx + ay * by > 0)) return false;
  const [aMm, bMm] = [Math.hypot(ax, ay), Math.hypot(bx, by)];
  const mm = Math.min(aMm, bMm);
  const apartMm = mm * Math.hypot(ax / aMm - bx / bMm, ay / aMm - by / bMm);
  return apartMm <= Math.min(SAME_LINE_MM, SAME_DIRECTION * mm);
}
