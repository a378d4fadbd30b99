import type { Beam } from './beam.ts';
import { type CutPass, marchedDepthMm, passesProblem } from './march.ts';
import type { Stock } from './stock.ts';

/** A test cut and what came of it. */
export interface CouponRow {
  beam: Beam;
  /** Tells lenses apart; rows of different lenses are not compared. */
  lens: string;
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
export function parted(row: CouponRow): boolean | null {
  if (row.depthMm !== null) return row.depthMm >= row.thicknessMm ? true : null;
  return row.through;
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

/** Nodes of the table below; between them the logarithm of the depth is nearly straight. */
const NODES = 17;
/** Shallower than any mark; keeps the logarithm finite. */
const LEAST_DEPTH_MM = 1e-9;

/**
 * ln depth of a recipe over ln removal energy, at one divergence share: a table, since a posterior asks for it thousands
 * of times. Reads to 0.2 %.
 */
export class DepthTable {
  readonly from: number;
  readonly step: number;
  readonly logDepths: Float64Array;

  constructor(beam: Beam, stock: Stock, passes: readonly CutPass[], fromLog: number, toLog: number) {
    this.from = fromLog;
    this.step = (toLog - fromLog) / (NODES - 1);
    this.logDepths = Float64Array.from({ length: NODES }, (_, i) => {
      const removalJPerMm3 = Math.exp(fromLog + i * this.step);
      return Math.log(Math.max(LEAST_DEPTH_MM, marchedDepthMm(beam, { ...stock, removalJPerMm3 }, passes)));
    });
  }

  logDepthAt(logRemoval: number): number {
    const at = Math.min(Math.max((logRemoval - this.from) / this.step, 0), NODES - 1);
    const below = Math.min(Math.floor(at), NODES - 2);
    const low = this.logDepths[below]!;
    return low + (this.logDepths[below + 1]! - low) * (at - below);
  }
}
