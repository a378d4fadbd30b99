import type { Beam } from '../beam/focused-beam.ts';
import { type CutPass, passesProblem } from '../march/passes.ts';

/** A test cut and what came of it. */
export interface CouponRow {
  beam: Beam;
  /** Tells lenses apart; rows of different lenses are not compared. */
  lens: string;
  /** Tells pieces apart: rows of one piece were cut in one sheet, with one setting of the focus, on one day. */
  piece: string;
  passes: readonly CutPass[];
  thicknessMm: number;
  /** Did it part? Null when a depth was measured instead. */
  through: boolean | null;
  depthMm: number | null;
}

/** Why a row cannot be used, in words for a person; null when it can. */
export function couponProblem(row: CouponRow): string | null {
  if (!(Number.isFinite(row.thicknessMm) && row.thicknessMm > 0))
    return `the thickness must be above 0 mm, not ${row.thicknessMm}`;
  if (!(row.beam.spotMm > 0 && row.beam.cone > 0)) return 'the spot must be above 0 mm';
  const problem = passesProblem(row.passes);
  if (problem !== null) return problem;
  if (row.through === null && row.depthMm === null) return 'neither through nor a depth is given';
  if (row.depthMm !== null && !(Number.isFinite(row.depthMm) && row.depthMm > 0)) {
    return `a measured depth must be above 0 mm, not ${row.depthMm}`;
  }
  if (row.through === true && row.depthMm !== null && row.depthMm < row.thicknessMm) {
    return `it cannot have parted at a depth of ${row.depthMm} mm in ${row.thicknessMm} mm`;
  }
  if (row.through === false && row.depthMm !== null && row.depthMm >= row.thicknessMm) {
    return `a depth of ${row.depthMm} mm parts ${row.thicknessMm} mm`;
  }
  return null;
}

/** Did the row part? Null when its depth inside the sheet was measured. */
export function parted(row: Pick<CouponRow, 'through' | 'depthMm' | 'thicknessMm'>): boolean | null {
  if (row.depthMm !== null) return row.depthMm >= row.thicknessMm ? true : null;
  return row.through;
}

/**
 * Did coupons meet the boundary from both sides: one that parted, and one that did not, or whose depth was measured inside the sheet?
 * With fewer than two, or from one side only, nobody knows where it lies.
 */
export function bracketsBoundary(rows: readonly Pick<CouponRow, 'through' | 'depthMm' | 'thicknessMm'>[]): boolean {
  return rows.some((row) => parted(row) === true) && rows.some((row) => parted(row) !== true);
}

/** Line energy of all passes, J/mm. */
function lineEnergyJPerMm(passes: readonly CutPass[]): number {
  return passes.reduce((sum, pass) => sum + pass.powerW / pass.speedMmPerS, 0);
}

/** Thicknesses that count as the same sheet in a comparison, mm. */
const SAME_THICKNESS_MM = 0.15;
const SAME_FOCUS_MM = 0.05;

/** Pairs of rows (by index) where one parted at less energy than another that did not, at one thickness, lens, focus and number of passes. */
export function contradictions(rows: readonly CouponRow[]): { parted: number; stayed: number }[] {
  const pairs: { parted: number; stayed: number }[] = [];
  rows.forEach((row, i) => {
    if (parted(row) !== true) return;
    rows.forEach((other, j) => {
      if (parted(other) === true || !alike(row, other)) return;
      if (lineEnergyJPerMm(row.passes) < lineEnergyJPerMm(other.passes)) pairs.push({ parted: i, stayed: j });
    });
  });
  return pairs;
}

function alike(a: CouponRow, b: CouponRow): boolean {
  return (
    a.lens === b.lens &&
    Math.abs(a.thicknessMm - b.thicknessMm) < SAME_THICKNESS_MM &&
    a.passes.length === b.passes.length &&
    a.passes.every((pass, i) => Math.abs(pass.focusMm - b.passes[i]!.focusMm) < SAME_FOCUS_MM)
  );
}
