/** Speeds that people set, mm/s. */
export const SPEED_TICKS = [0.5, 1, 2, 3, 4, 5, 6, 8, 10, 15, 20, 30, 40, 50, 60, 80, 100, 150, 200, 300, 400];
/** Thicknesses that sheets come in, mm. */
export const THICKNESS_TICKS = [0.5, 1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 18, 20, 25, 30, 40, 50, 75, 100];

/** Of marks in order those that stand far enough apart to be read. */
export function spaced(marks: readonly number[], at: (mark: number) => number, apart: number): number[] {
  const kept: number[] = [];
  for (const mark of marks) {
    const before = kept.at(-1);
    if (before === undefined || Math.abs(at(mark) - at(before)) >= apart) kept.push(mark);
  }
  return kept;
}
