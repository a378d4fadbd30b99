import type { Beam } from '../../src/physics/beam/focused-beam.ts';
import { removalFactorFor } from '../../src/physics/march/inverse.ts';
import type { Stock } from '../../src/physics/march/stock.ts';

/** A published limit of full penetration: the highest speed at which a source parted a thickness in one pass, focus on the face. */
export interface BoundaryPoint {
  powerW: number;
  speedMmPerS: number;
  thicknessMm: number;
}

export interface RemovalFit {
  removalJPerMm3: number;
  divergenceShare: number;
  /** Removal energy that each point alone asks for over the fitted one, less 1. */
  residuals: number[];
}

/** Divergence shares that are tried first, and how many finer ones around the best. */
const COARSE = Array.from({ length: 101 }, (_, i) => i / 100);
const FINE = 40;

/**
 * Removal energy (and, where it is not given, the divergence share) that puts a march's end on published boundary points.
 * This is a fit: the points it used cannot then be held against it.
 * @param stock gives the thermal values; its removal energy is only the start.
 * @param share held at this value; null: found, which takes two or more thicknesses.
 */
export function fitRemoval(
  points: readonly BoundaryPoint[],
  beam: Beam,
  stock: Stock,
  share: number | null,
): RemovalFit {
  const best = (shares: readonly number[]) => {
    const fits = shares.map((each) => fitAt(points, beam, stock, each));
    return fits.reduce((least, fit) => (scatter(fit) < scatter(least) ? fit : least));
  };
  if (share !== null) return best([share]);
  const middle = best(COARSE).divergenceShare;
  const around = Array.from({ length: FINE + 1 }, (_, i) => middle + (i / FINE - 0.5) / 50);
  return best(around.filter((each) => each >= 0 && each <= 1));
}

function fitAt(points: readonly BoundaryPoint[], beam: Beam, stock: Stock, divergenceShare: number): RemovalFit {
  const each = points.map(({ powerW, speedMmPerS, thicknessMm }) => {
    const pass = { powerW, speedMmPerS, focusMm: 0 };
    return stock.removalJPerMm3 * removalFactorFor(beam, { ...stock, divergenceShare }, [pass], thicknessMm);
  });
  const removalJPerMm3 = Math.exp(each.reduce((sum, value) => sum + Math.log(value), 0) / each.length);
  return { removalJPerMm3, divergenceShare, residuals: each.map((value) => value / removalJPerMm3 - 1) };
}

function scatter(fit: RemovalFit): number {
  return fit.residuals.reduce((sum, residual) => sum + residual * residual, 0);
}
